import { faultName } from '../../../../protocol';
import type { Outcome } from './host-line';
import type { Rig } from './rig';
import { madeMilliohm, maskFor, readTable } from './table';
import type { Gauge } from './world';

const LEASE_MS = 2000;
/** Job kinds of the protocol. */
export const jobKinds = { thermal: 0, magnetic: 1, fuel: 4 } as const;

export type Job = {
  readonly ohm: number;
  readonly gauge: Gauge;
  readonly jobKind: number;
};

/** Short words for an outcome that was not the wished one. */
export function said(outcome: Outcome): string {
  if (outcome === undefined) return 'no answer';
  if (outcome.kind === 'answer') return `answered ${outcome.name}`;
  return `refused ${outcome.fields.refusalCode}, ${outcome.fields.detail}`;
}

/** Greets, arms and sets. Answers what went wrong, or nothing when the output drives. */
export function startDriving(rig: Rig, { ohm, gauge, jobKind }: Job): string | undefined {
  const { line, box } = rig;
  box.hookup = gauge;
  rig.pass(300);
  if (!rig.greet()) return 'no greeting';
  const table = readTable(rig);
  if (table === undefined) return 'no element table';
  const own = line.ask({ name: 'jobLimits', fields: { channel: 0, jobKind } });
  if (own?.kind !== 'answer' || own.name !== 'jobLimits') return `limits: ${said(own)}`;
  const { currentLimitMilliamp, elementPowerLimitMilliwatt, totalPowerLimitMilliwatt } = own.fields;
  const { supplyLimitMillivolt, floorMilliohm, floorTimeMs } = own.fields;
  const armed = line.ask({
    name: 'arm',
    fields: {
      channel: 0,
      jobKind,
      currentLimitMilliamp,
      elementPowerLimitMilliwatt,
      totalPowerLimitMilliwatt,
      supplyLimitMillivolt,
      floorMilliohm,
      floorTimeMs,
      leaseMs: LEASE_MS,
      originalLeastMilliohm: 0,
    },
  });
  if (armed?.kind !== 'answer') return `arm: ${said(armed)}`;
  const contactMask = maskFor(table, ohm);
  const set = line.ask({
    name: 'set',
    fields: {
      channel: 0,
      contactMask,
      complementMask: contactMask ^ 0xffff,
      resistanceMilliohm: Math.round(madeMilliohm(table, contactMask)),
      leaseMs: LEASE_MS,
    },
  });
  return set?.kind === 'answer' ? undefined : `set: ${said(set)}`;
}

/** The last trip that the box told, in words. */
export function tripOf({ line }: Rig): string | undefined {
  const event = line.events.at(-1);
  if (event === undefined) return undefined;
  const { faultCode, measured, limit } = event.fields;
  return `${faultName(faultCode) ?? faultCode} ${measured} over ${limit}`;
}
