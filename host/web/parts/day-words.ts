const DAY_MS = 86_400_000;

/** Made once: making one takes longer than a thousand answers of it. */
const ofDay = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' });
const ofYear = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short' });
const ofAnyYear = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });

/** "today 14:20", "27 Nov", "27 Nov 2025": as one says it. */
export function dayWords(iso: string, nowMs: number): string {
  const then = new Date(iso);
  const now = new Date(nowMs);
  const isNear = Math.abs(nowMs - then.getTime()) < DAY_MS && then.getDate() === now.getDate();
  if (isNear) return `today ${ofDay.format(then)}`;
  return (then.getFullYear() === now.getFullYear() ? ofYear : ofAnyYear).format(then);
}
