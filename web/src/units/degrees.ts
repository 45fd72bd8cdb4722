// Degrees as people read them: whole, with a real minus sign; a difference is never moved by 32.
// The server turns everything into the unit asked for; these turn only what is typed on this device.

export type Unit = 'F' | 'C';

const minus = '−';

/** "251" or "−4"; a tie goes away from zero, as the command line does it. */
export function whole(value: number): string {
  return fixed(value, 0);
}

function fixed(value: number, decimals: number): string {
  const factor = 10 ** decimals;
  const rounded = (Math.sign(value) * Math.round(Math.abs(value) * factor)) / factor;
  const text = Math.abs(rounded).toFixed(decimals);
  return rounded < 0 ? minus + text : text;
}

/** "251°", or "no reading" where there is none. */
export function reading(value: number | null): string {
  return value === null ? 'no reading' : `${whole(value)}°`;
}

/** "+14", "−9", "0": a difference, its sign said. */
export function signed(value: number, decimals = 0): string {
  const text = fixed(value, decimals);
  return text.startsWith(minus) || Number(text) === 0 ? text : `+${text}`;
}

export interface Ranged {
  value: number | null;
  low: number | null;
  high: number | null;
}

/** Tenths only where the range is narrower than one degree. */
function decimalsOf(low: number, high: number): number {
  return high - low < 1 ? 1 : 0;
}

/** "12 to 16", for the brackets behind a number. */
export function range({ low, high }: Ranged): string {
  if (low === null || high === null) return 'no range';
  const decimals = decimalsOf(low, high);
  return `${fixed(low, decimals)} to ${fixed(high, decimals)}`;
}

/** "+14 (12 to 16)". */
export function signedWithRange(one: Ranged): string {
  if (one.value === null) return 'not known';
  if (one.low === null || one.high === null) return signed(one.value);
  return `${signed(one.value, decimalsOf(one.low, one.high))} (${range(one)})`;
}

/** "251 (244 to 258)". */
export function plainWithRange(one: Ranged): string {
  if (one.value === null) return 'not known';
  if (one.low === null || one.high === null) return whole(one.value);
  return `${fixed(one.value, decimalsOf(one.low, one.high))} (${range(one)})`;
}

/** A temperature in another unit. */
export function temperatureIn(value: number, from: Unit, to: Unit): number {
  if (from === to) return value;
  return to === 'C' ? (value - 32) / 1.8 : value * 1.8 + 32;
}

/** A difference in another unit: 9 °F are 5 °C. */
export function differenceIn(value: number, from: Unit, to: Unit): number {
  if (from === to) return value;
  return to === 'C' ? value / 1.8 : value * 1.8;
}

export interface Quantity {
  value: number;
  unit: Unit;
}

/** "263 F", "128,5 °C" or a bare number in `unit`; null where it is none of these. */
export function parseTemperature(text: string, unit: Unit): Quantity | null {
  const found = /^\s*([+\-−]?\d+(?:[.,]\d+)?)\s*(?:°|deg)?\s*([FCfc])?\s*$/.exec(text);
  if (!found) return null;
  const value = Number((found[1] ?? '').replace(minus, '-').replace(',', '.'));
  const letter = found[2]?.toUpperCase();
  return { value, unit: letter === 'F' || letter === 'C' ? letter : unit };
}

/** How a temperature is written for the server: "263 F". */
export function written(value: number, unit: Unit): string {
  return `${Math.round(value * 10) / 10} ${unit}`;
}

/** A temperature as it was typed, with its unit: a bare number is in the unit of the screen. Empty: null. */
export function withUnit(typed: string, unit: 'F' | 'C'): string | null {
  const text = typed.trim();
  if (text === '') return null;
  return /^[+-]?\d+([.,]\d+)?\s*°?$/.test(text) ? `${text.replace(/\s*°?$/, '').replace(',', '.')} ${unit}` : text;
}
