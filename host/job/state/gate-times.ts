import type { Confirmation } from '../schema/safety';
import type { JobState } from './state';

/** What the times of the gates are reckoned from. */
export type GateFacts = Pick<
  JobState,
  'simulated' | 'saidForSafety' | 'senderPoints' | 'tested' | 'proofPairs'
>;

const MS_PER_MINUTE = 60_000;
/** Hands are asked for before each reading; a block warms its hose again; a drive has an end. Common practice, no source. */
const RUNS_OUT_MS: Readonly<Partial<Record<Confirmation, number>>> = {
  'engine-runs': MS_PER_MINUTE,
  'engine-cold': 10 * MS_PER_MINUTE,
  'two-aboard': 30 * MS_PER_MINUTE,
};
/** An engine that stood so long is cold. Common practice, no source. */
const COLD_AFTER_MS = 4 * 60 * MS_PER_MINUTE;

const timeOf = (at: string | undefined): number => (at === undefined ? NaN : Date.parse(at));

const lastSaid = ({ saidForSafety }: GateFacts, confirmation: Confirmation) =>
  saidForSafety.filter((each) => each.confirmation === confirmation).at(-1);

/** Whether what was said counts no more by its own time; in a drawn vehicle nothing warms and nothing turns. */
export function isRunOut(confirmation: Confirmation, facts: GateFacts, nowIso: string): boolean {
  const limitMs = RUNS_OUT_MS[confirmation];
  const said = lastSaid(facts, confirmation);
  if (facts.simulated || limitMs === undefined || said === undefined) return false;
  // Cold by the hours that it stood stays so until the engine is started.
  if (confirmation === 'engine-cold' && said.probeCelsius === undefined)
    return coldFromIso(facts) === undefined;
  // A sender that lies in its bath was taken out while the system was cold.
  const working = confirmation === 'engine-cold' ? facts.senderPoints.at(-1)?.at : undefined;
  const sinceMs = Math.max(timeOf(said.at), timeOf(working) || -Infinity);
  return !(Math.abs(timeOf(nowIso) - sinceMs) <= limitMs);
}

/** When an engine that was said to be switched off is cold; undefined where nobody said so, or it ran since. */
export function coldFromIso(facts: GateFacts): string | undefined {
  const off = lastSaid(facts, 'engine-off');
  if (off === undefined) return undefined;
  const ran = [
    lastSaid(facts, 'engine-runs'),
    lastSaid(facts, 'two-aboard'),
    ...facts.tested.filter(({ test }) => test === 'as-found-warm' || test === 'sender-warm'),
    ...facts.proofPairs.filter(({ engine }) => engine === 'running' || engine === 'driving'),
  ];
  return ran.some((each) => each !== undefined && each.n > off.n)
    ? undefined
    : new Date(timeOf(off.at) + COLD_AFTER_MS).toISOString();
}
