import { describe, expect, it } from 'vitest';
import { contactBits } from '../../../firmware-ts/board/reference-design';
import { Drive } from '../../../firmware-ts/box/drive';
import type { DriveOutcome } from '../../../firmware-ts/box/drive';
import { jobLimits } from '../../../firmware-ts/guard/job-limits';
import type { JobLimits } from '../../../firmware-ts/guard/job-limits';
import { ElementTable } from '../../../firmware-ts/ladder/table';
import { MeterRig } from '../meter/rig';

/** R6 and R7 inserted, output closed, limiter out: 62 ohm and the residual. */
const SIXTY = contactBits.allMask & ~(1 << 5) & ~(1 << 6);
/** R10 inserted as well: 317 ohm. */
const THREE_HUNDRED = SIXTY & ~(1 << 9);
const SAMPLES_TO_SETTLE = 3;

class Rig extends MeterRig {
  readonly table = new ElementTable();
  readonly drive: Drive;
  /** Samples taken since the contacts came to rest, as they were when the last move was over. */
  samplesAtRest = 0;
  #restSample = -1;

  readonly limits: JobLimits;

  constructor(limits: JobLimits = jobLimits.magnetic) {
    super();
    this.limits = limits;
    this.table.fillNominal();
    this.drive = new Drive(this);
    this.live(20);
    this.drive.noteOpenCircuit(this.meter.terminalMicrovolt);
  }

  go(mask: number): void {
    this.drive.go(mask, this.limits, this.nowMs);
  }

  /** One turn of the main loop. */
  turn(): DriveOutcome {
    const isFresh = this.tick();
    const outcome = this.drive.tick(this.nowMs, isFresh, this.limits);
    if (this.contacts.isMoving(this.nowMs)) this.#restSample = -1;
    else if (this.#restSample < 0) this.#restSample = this.meter.sampleCount;
    this.samplesAtRest = this.#restSample < 0 ? 0 : this.meter.sampleCount - this.#restSample;
    return outcome;
  }

  /** Turns until it moves no more. */
  settle(): DriveOutcome {
    for (let turns = 0; turns < 200; turns += 1) {
      const outcome = this.turn();
      if (outcome !== 'moving') return outcome;
    }
    return 'moving';
  }
}

describe('a drive to a resistance', () => {
  it('is at rest only when three samples have been taken with no contact on its way', () => {
    const rig = new Rig();
    rig.go(THREE_HUNDRED);
    let settledTurns = 0;
    for (let turn = 0; turn < 60; turn += 1) {
      rig.turn();
      if (!rig.drive.isSettled) continue;
      settledTurns += 1;
      expect(rig.samplesAtRest).toBeGreaterThanOrEqual(SAMPLES_TO_SETTLE);
    }
    expect(settledTurns).toBeGreaterThan(10);
  });

  it('goes through the limiter, and takes it out when current has proved the setting', () => {
    const rig = new Rig();
    rig.go(SIXTY);
    expect(rig.contacts.commandedMask & contactBits.limiterBypassMask).toBe(0);
    expect(rig.settle()).toBe('made');
    expect(rig.contacts.commandedMask).toBe(SIXTY);
    expect(rig.world.commandedMask).toBe(SIXTY);
  });

  it('spares the gauge the limiter when the present operating point proves the setting', () => {
    const rig = new Rig();
    rig.go(THREE_HUNDRED);
    rig.settle();
    rig.live(5);
    rig.turn();
    rig.turn();
    rig.go(SIXTY);
    expect(rig.contacts.commandedMask & contactBits.limiterBypassMask).not.toBe(0);
  });

  it('foresees nothing before it has settled, and nothing where no current flows', () => {
    const rig = new Rig();
    rig.world.vehicle.settings.isIgnitionOn = false;
    expect(rig.drive.foresee(SIXTY, rig.limits)).toEqual({ kind: 'unknown' });
    rig.go(SIXTY);
    rig.turn();
    expect(rig.drive.foresee(SIXTY, rig.limits)).toEqual({ kind: 'unknown' });
    expect(rig.settle()).toBe('limited');
    expect(rig.drive.foresee(SIXTY, rig.limits)).toEqual({ kind: 'unknown' });
    expect(rig.contacts.commandedMask & contactBits.limiterBypassMask).toBe(0);
  });

  it('tells that a setting is too much, with what it would carry and the limit, and leaves the limiter in', () => {
    const rig = new Rig({ ...jobLimits.magnetic, currentLimitMilliamp: 50, peakLimitMilliamp: 50 });
    rig.go(SIXTY);
    const outcome = rig.settle();
    // 6.75 V over 45 and 63 ohm are 62 mA; the source counts for a twentieth less.
    expect(outcome).toMatchObject({ kind: 'too-much', refusal: 'PREDICTED_CURRENT', limit: 50 });
    expect(rig.contacts.commandedMask & contactBits.limiterBypassMask).toBe(0);
  });

  it('does not believe a feed that changes: two samples must agree', () => {
    const rig = new Rig();
    const { settings } = rig.world.vehicle;
    rig.go(SIXTY);
    // No two of three agree, so no two samples one or two turns apart do.
    const volts = [13.5, 10, 12] as const;
    for (let turn = 0; turn < 60; turn += 1) {
      settings.supplyVolt = volts[turn % 3] ?? NaN;
      rig.turn();
      expect(rig.contacts.commandedMask & contactBits.limiterBypassMask).toBe(0);
    }
    settings.supplyVolt = 13.5;
    expect(rig.settle()).not.toBe('moving');
    for (let turn = 0; turn < 20; turn += 1) rig.turn();
    expect(rig.contacts.commandedMask).toBe(SIXTY);
  });
});
