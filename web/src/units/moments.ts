// Moments as the server writes them: ISO 8601 with an offset, or h:mm:ss since the first sample
// where a burn has no zero on the world's clock. They are shown as a clock at the pit would show them.

/** Milliseconds since 1970 of an ISO moment; null for times since the first sample and for nonsense. */
export function instantOf(moment: string | null): number | null {
  if (moment === null || !moment.includes('T')) return null;
  const ms = Date.parse(moment);
  return Number.isNaN(ms) ? null : ms;
}

/** Minutes east of Greenwich that the moment itself states; null where it says Z or nothing. */
function offsetMinutes(moment: string): number | null {
  const found = /([+-])(\d{2}):?(\d{2})$/.exec(moment);
  if (!found) return null;
  const minutes = Number(found[2]) * 60 + Number(found[3]);
  return found[1] === '-' ? -minutes : minutes;
}

/** The same wall clock, as a UTC date: what Intl can print without knowing the zone. */
function wallClock(moment: string): { date: Date; zone: 'UTC' | undefined } | null {
  const ms = instantOf(moment);
  if (ms === null) return null;
  const offset = offsetMinutes(moment);
  return offset === null
    ? { date: new Date(ms), zone: undefined }
    : { date: new Date(ms + offset * 60_000), zone: 'UTC' };
}

function formatted(moment: string, options: Intl.DateTimeFormatOptions, locale?: string): string {
  const wall = wallClock(moment);
  if (!wall) return elapsed(moment);
  const zoned = wall.zone ? { ...options, timeZone: wall.zone } : options;
  return new Intl.DateTimeFormat(locale, zoned).format(wall.date);
}

/** "0:35:00" -> "0:35". */
function elapsed(text: string): string {
  return text.replace(/^(-?\d+:\d{2}):\d{2}$/, '$1');
}

/** "14:10" or "2:10 PM", as the locale has it; null -> a dash. */
export function clock(moment: string | null, locale?: string): string {
  if (moment === null) return '–';
  return formatted(moment, { hour: 'numeric', minute: '2-digit' }, locale);
}

/** "Sat 2 May 2026", as the locale has it. */
export function day(moment: string | null, locale?: string): string {
  if (moment === null) return 'no date';
  if (instantOf(moment) === null) return 'since the first reading';
  return formatted(moment, { weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' }, locale);
}

/** "1 h 10 min", "11 min", "under a minute"; whole minutes, never seconds. */
export function minutes(seconds: number): string {
  const whole = Math.floor(seconds / 60 + 1e-9);
  if (whole < 1) return 'under a minute';
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

/** Whole minutes still to wait, rounded up: 61 s are 2 min, so that it is never too early. */
export function minutesLeft(seconds: number): number {
  return Math.max(0, Math.ceil(seconds / 60 - 1e-9));
}

/** "just now", "4 min ago", "2 h ago": how old something is. */
export function ago(ms: number): string {
  const seconds = Math.max(0, ms / 1000);
  if (seconds < 45) return 'just now';
  if (seconds < 3600) return `${Math.max(1, Math.round(seconds / 60))} min ago`;
  if (seconds < 48 * 3600) return `${Math.round(seconds / 3600)} h ago`;
  return `${Math.round(seconds / 86400)} days ago`;
}
