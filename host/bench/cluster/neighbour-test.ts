import {
  feedLawOf,
  neighbourCell,
  type Deflection,
  type Measured,
  type NeighbourCell,
} from '../../core/cluster';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { BenchClock } from '../clock';
import { HeldBox, type HeldLook } from './held-box';
import { armingOf, endsOf, restOhmOf, type Member } from './member';

export type NeighbourTestParts = {
  readonly members: readonly Member[];
  readonly clock: BenchClock;
  readonly signal: AbortSignal;
  /** The boxes' BATTERY - leads lie on the bench's negative. */
  readonly isBatteryLeadOnBench: boolean;
  /** A person may want to know how far it is: which gauge is moved now. */
  readonly about: (jobId: string) => void;
};

/** By member: what each saw while one of them was at its least current, at its most, and at its least again. */
type Seen = {
  readonly before: HeldLook[];
  readonly during: HeldLook[];
  readonly after: HeldLook[];
};

/**
 * Everybody at rest; one gauge after the other goes to its least current, to its most and back, and every box tells
 * what it saw. Refuses what a box refuses, and CALLED_OFF; every output is open at its end.
 */
export async function neighbourTest(parts: NeighbourTestParts): Promise<readonly NeighbourCell[] | Refused> {
  const { members, clock, signal } = parts;
  const holders = members.map(({ box, gauge }) => new HeldBox({ box, clock, signal, ...armingOf(gauge) }));
  const bring = async (at: number, ohm: number): Promise<Refused | undefined> => {
    const made = await holders[at]!.hold(ohm);
    if (made === 'made') return undefined;
    return made === 'called-off' ? refuse('CALLED_OFF') : made;
  };
  const lookAll = async (): Promise<HeldLook[] | Refused> => {
    const looks = await Promise.all(holders.map((holder) => holder.look()));
    const trouble = looks.find((look) => look === 'called-off' || 'kind' in look);
    if (trouble === 'called-off') return refuse('CALLED_OFF');
    if (trouble !== undefined && 'kind' in trouble) return trouble;
    return looks.flatMap((look) => (typeof look === 'object' && 'amp' in look ? look : []));
  };
  try {
    for (const [at, { gauge }] of members.entries()) {
      const refused = await bring(at, restOhmOf(gauge));
      if (refused !== undefined) return refused;
    }
    const runs: Seen[] = [];
    for (const [at, member] of members.entries()) {
      parts.about(member.jobId);
      const seen = await moveOne(at, member, bring, lookAll);
      if ('kind' in seen) return seen;
      runs.push(seen);
    }
    return cellsOf(parts, runs);
  } finally {
    await Promise.all(holders.map((holder) => holder.end()));
  }
}

async function moveOne(
  at: number,
  { gauge }: Member,
  bring: (at: number, ohm: number) => Promise<Refused | undefined>,
  lookAll: () => Promise<HeldLook[] | Refused>,
): Promise<Seen | Refused> {
  const { leastOhm, mostOhm } = endsOf(gauge);
  const looks: HeldLook[][] = [];
  for (const ohm of [mostOhm, leastOhm, mostOhm]) {
    const refused = await bring(at, ohm);
    if (refused !== undefined) return refused;
    const seen = await lookAll();
    if ('kind' in seen) return seen;
    looks.push(seen);
  }
  const refused = await bring(at, restOhmOf(gauge));
  const [before, during, after] = looks;
  if (before === undefined || during === undefined || after === undefined) return refuse('CALLED_OFF');
  return refused ?? { before, during, after };
}

/** Volts behind the sender terminal, from two of the box's own settings. Source: Ohm, twice. */
const openVoltOf = ({ before, during }: Seen, at: number): number => {
  const [one, other] = [before[at]!, during[at]!];
  const ohm = (other.amp.value * other.ohm - one.amp.value * one.ohm) / (one.amp.value - other.amp.value);
  return one.amp.value * (ohm + one.ohm);
};

const minus = (one: Measured, other: Measured): Measured => ({
  value: one.value - other.value,
  u: Math.hypot(one.u, other.u),
});
const half = (one: Measured, other: Measured): Measured => ({
  value: (one.value + other.value) / 2,
  u: Math.hypot(one.u, other.u) / 2,
});

/** At rest a gauge is watched; its whole arc it has gone through itself. */
function deflectionOf({ gauge }: Member, own: Seen, at: number, atRest: Measured): Deflection {
  const law = feedLawOf(gauge.mechanism);
  const drive = (amp: number): number => (law === 'square' ? amp ** 2 : amp);
  const span = Math.abs(drive(own.during[at]!.amp.value) - drive(own.before[at]!.amp.value));
  return { law, driveOverSpan: drive(atRest.value) / span };
}

function cellsOf(
  { members, isBatteryLeadOnBench }: NeighbourTestParts,
  runs: readonly Seen[],
): NeighbourCell[] {
  return members.flatMap((moved, movedAt) => {
    const { before, during, after } = runs[movedAt]!;
    return members.flatMap((watched, at) => {
      if (at === movedAt) return [];
      const own = runs[at]!;
      const ground = minus(during[at]!.groundVolt, half(before[at]!.groundVolt, after[at]!.groundVolt));
      return neighbourCell(
        {
          movedId: moved.jobId,
          watchedId: watched.jobId,
          before: before[at]!.amp,
          during: during[at]!.amp,
          after: after[at]!.amp,
          drawnAmp: minus(during[movedAt]!.amp, half(before[movedAt]!.amp, after[movedAt]!.amp)),
          openVolt: openVoltOf(own, at),
          ...(isBatteryLeadOnBench ? { groundVolt: ground } : {}),
        },
        deflectionOf(watched, own, at, before[at]!.amp),
      );
    });
  });
}
