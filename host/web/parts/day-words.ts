const DAY_MS = 86_400_000;

/** "today 14:20", "27 Nov", "27 Nov 2025": as one says it. */
export function dayWords(iso: string, nowMs: number): string {
  const then = new Date(iso);
  const now = new Date(nowMs);
  const isNear = Math.abs(nowMs - then.getTime()) < DAY_MS && then.getDate() === now.getDate();
  if (isNear) return `today ${then.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })}`;
  return then.toLocaleDateString('en-GB', {
    day: 'numeric',
    month: 'short',
    ...(then.getFullYear() === now.getFullYear() ? {} : { year: 'numeric' }),
  });
}
