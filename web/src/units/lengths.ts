// Lengths as people type them; metres inside.

const perMetre = { in: 1 / 0.0254, cm: 100, mm: 1000, m: 1, ft: 1 / 0.3048 } as const;
export type LengthUnit = keyof typeof perMetre;

/** A number in metres from one in `unit`. */
export function metres(value: number, unit: LengthUnit): number {
  return value / perMetre[unit];
}

/** "36 in", "91 cm", "91": metres, a bare number taken as `unit`; null where it is none. */
export function parseLength(text: string, unit: LengthUnit): number | null {
  const found = /^\s*(\d+(?:[.,]\d+)?)\s*(in|inch|inches|"|cm|mm|m|ft)?\s*$/i.exec(text);
  if (!found) return null;
  const value = Number((found[1] ?? '').replace(',', '.'));
  const word = (found[2] ?? unit).toLowerCase();
  const named = word.startsWith('inch') || word === '"' ? 'in' : (word as LengthUnit);
  return metres(value, named);
}

/** "36" for an input that stands before its unit; at most one decimal. */
export function lengthNumber(value: number | null, unit: LengthUnit): string {
  if (value === null) return '';
  return String(Math.round(value * perMetre[unit] * 10) / 10);
}

/** "16.5 in", "42 cm": a place as it can be found with a tape, to half an inch or a centimetre. */
export function placeLength(value: number, unit: 'in' | 'cm'): string {
  const step = unit === 'in' ? 0.5 : 1;
  return `${Math.round((value * perMetre[unit]) / step) * step} ${unit}`;
}
