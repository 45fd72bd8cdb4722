// Pictures of the fixture: drawn by hand, roughly, only so that the screens have something to show.
// With FIXTURE_PICTURES=DIR it serves DIR/lay_narrow.svg and so on instead: real pictures to look at.
import { existsSync, readFileSync } from 'node:fs';

const text = (x, y, words, more = '') => `<text x="${x}" y="${y}" font-family="sans-serif" fill="#1f2328" ${more}>${words}</text>`;

export function pictureOf(name, query, call) {
  const real = `${process.env.FIXTURE_PICTURES ?? ''}/${name.replace('.svg', '')}_${query.get('width') ?? 'narrow'}.svg`;
  if (existsSync(real)) return readFileSync(real, 'utf8');
  const width = query.get('width') === 'wide' ? 1200 : 390;
  if (name === 'lay.svg') return lay(width, call);
  return name === 'call.svg' ? dots(width, call) : strip(width, call);
}

function page(width, height, title, body) {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img"><title>${title}</title><rect width="${width}" height="${height}" fill="#ffffff"/>${body}</svg>`;
}

function lay(width, call) {
  const half = width >= 600 ? width / 2 : width;
  const settings = Object.keys(call.level.by_setting);
  const places = { 'left front': [0.2, 0.75], 'left back': [0.2, 0.3], 'right front': [0.8, 0.75], 'right back': [0.8, 0.3] };
  const height = 260;
  const body = settings.map((setting, index) => {
    const x = half === width ? 0 : index * half;
    const y = half === width ? index * height : 0;
    const spots = call.spots.map((one) => {
      const [u, v] = places[one.spot];
      const value = one.by_setting[setting].value;
      const words = (value > 0 ? '+' : value < 0 ? '−' : '') + Math.round(Math.abs(value));
      const at = [x + 16 + u * (half - 32), y + 50 + v * (height - 70)];
      return `<g data-spot="${one.spot}" data-value="${value}"><rect x="${at[0] - 24}" y="${at[1] - 16}" width="48" height="26" rx="13" fill="#ffffff"/>${text(at[0], at[1] + 4, words, 'text-anchor="middle" font-weight="700" font-size="17"')}</g>`;
    }).join('');
    return `${text(x + 16, y + 32, setting, 'font-weight="700" font-size="20"')}<rect x="${x + 16}" y="${y + 50}" width="${half - 32}" height="${height - 70}" fill="#fde3b5"/><rect x="${x + 16 + (half - 32) / 2}" y="${y + 50}" width="${(half - 32) / 2}" height="${height - 70}" fill="#c3d9ee"/>${spots}`;
  }).join('');
  return page(width, half === width ? height * settings.length : height, 'The lay (fixture)', body);
}

function dots(width, call) {
  const x = (value) => width / 2 + (value * (width - 60)) / 60;
  const lines = [...call.tilts.map((one) => [one.axis, one.changes[0]]), ['spread', call.spread.changes[0]], ['level', call.level.changes[0]]];
  const body = lines.map(([name, change], index) => {
    const y = 60 + index * 52;
    return `${text(16, y - 14, name, 'font-size="13"')}<line x1="${x(change.low)}" x2="${x(change.high)}" y1="${y}" y2="${y}" stroke="#57606a" stroke-width="4"/><circle cx="${x(change.value)}" cy="${y}" r="7" fill="#1f2328"/>`;
  }).join('');
  return page(width, 80 + lines.length * 52, 'Changes (fixture)', `<rect x="${x(-call.matters)}" y="30" width="${x(call.matters) - x(-call.matters)}" height="${lines.length * 52}" fill="#eceff2"/>${body}`);
}

function strip(width, call) {
  const each = (width - 32) / Math.max(1, call.stints.length);
  const body = call.stints.map((one, index) =>
    `<rect x="${16 + index * each}" y="30" width="${each - 4}" height="60" fill="#eceff2" stroke="#1f2328"/>${text(24 + index * each, 66, one.setting, 'font-weight="700" font-size="18"')}`).join('');
  return page(width, 110, 'The stints in order (fixture)', body);
}
