// Readings over time on a canvas. The library is fetched when the first chart is drawn.

import type uPlot from 'uplot';
import type { Samples } from '../../api/contract';

export interface Span {
  from: number;
  to: number;
}

/** One channel as points that go through each bucket's low and high. */
export interface Line {
  channel: string;
  t: number[];
  value: (number | null)[];
}

/** Low and high of a bucket become two points a quarter of a bucket either side of its middle. */
export function linesOf(samples: Samples): Line[] {
  return samples.channels
    .filter((one) => one.t.length > 0)
    .map((one) => {
      const quarter = one.t.length > 1 ? ((one.t[1] ?? 0) - (one.t[0] ?? 0)) / 4 : 0;
      const t: number[] = [];
      const value: (number | null)[] = [];
      one.t.forEach((middle, index) => {
        t.push(middle - quarter, middle + quarter);
        value.push(one.low[index] ?? null, one.high[index] ?? null);
      });
      return { channel: one.channel, t, value };
    });
}

export interface TimelineOptions {
  lines: Line[];
  forward: string | null;
  stints: { name: string; from: number; to: number }[];
  /** Redraws when it changes; the colors are read from the page. */
  theme: string;
  hour: (seconds: number) => string;
  onspan: (span: Span) => void;
}

/** Draws into `holder`, as wide as it is, and follows its width. */
export async function drawTimeline(holder: HTMLElement, options: TimelineOptions): Promise<{ destroy: () => void }> {
  const { default: UPlot } = await import('uplot');
  await import('uplot/dist/uPlot.min.css');
  const style = getComputedStyle(holder);
  const color = (name: string) => style.getPropertyValue(name).trim();
  const data = UPlot.join(options.lines.map((line) => [line.t, line.value]));
  const axis: Partial<uPlot.Axis> = {
    stroke: color('--soft'), font: `14px ${style.fontFamily}`,
    grid: { stroke: color('--hair'), width: 1 }, ticks: { stroke: color('--hair'), width: 1 },
  };
  const chart = new UPlot({
    width: holder.clientWidth, height: 340, legend: { show: false },
    cursor: { drag: { x: true, y: false, setScale: false }, points: { show: false } },
    scales: { x: { time: false } },
    axes: [
      { ...axis, values: (_, ticks) => ticks.map(options.hour), incrs: [60, 300, 600, 900, 1800, 3600, 7200, 14400, 21600], space: 70 },
      { ...axis, values: (_, ticks) => ticks.map((tick) => `${tick}°`), size: 56 },
    ],
    series: [{}, ...options.lines.map((line) => ({
      label: line.channel, spanGaps: false, points: { show: false },
      stroke: color(line.channel === options.forward ? '--ink' : '--hair'),
      width: line.channel === options.forward ? 2.5 : 1,
    }))],
    hooks: {
      drawClear: [(plot) => stintsBehind(plot, options.stints, color)],
      setSelect: [(plot) => {
        if (plot.select.width > 4) {
          options.onspan({
            from: plot.posToVal(plot.select.left, 'x'), to: plot.posToVal(plot.select.left + plot.select.width, 'x'),
          });
        }
      }],
    },
  }, data, holder);
  const watch = new ResizeObserver(() => chart.setSize({ width: holder.clientWidth, height: 340 }));
  watch.observe(holder);
  return {
    destroy: () => {
      watch.disconnect();
      chart.destroy();
    },
  };
}

/** The stints as alternating bands with their setting on top. */
function stintsBehind(plot: uPlot, stints: TimelineOptions['stints'], color: (name: string) => string): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  stints.forEach((stint, index) => {
    const from = plot.valToPos(stint.from, 'x', true);
    const to = plot.valToPos(stint.to, 'x', true);
    if (index % 2 === 0) {
      ctx.fillStyle = color('--band');
      ctx.fillRect(from, bbox.top, to - from, bbox.height);
    }
    ctx.fillStyle = color('--ink');
    ctx.font = `bold ${16 * devicePixelRatio}px sans-serif`;
    ctx.fillText(stint.name, Math.max(from, bbox.left) + 6, bbox.top + 20 * devicePixelRatio);
  });
  ctx.restore();
}
