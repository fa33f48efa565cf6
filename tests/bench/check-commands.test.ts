import { describe, expect, it } from 'vitest';
import type { JobCommand } from '../../host/job';
import { opening, slowThermal, testBench, type TestBench } from './setup';

const inCar = (): Promise<TestBench> => testBench(slowThermal, { ...opening, place: 'car' });
const capture = (loads: 'off' | 'lights', saidOn?: true): JobCommand => ({
  kind: 'capture-measurement',
  what: 'ground-offset-volt',
  loads,
  ...(saidOn === undefined ? {} : { saidOn }),
});
const typed = (what: 'supply-volt' | 'open-circuit-volt', value: number): JobCommand => ({
  kind: 'add-measurement',
  what,
  value,
  loads: 'off',
  source: 'person',
});
const conclude = (finding: 'sound' | 'nothing-found' | 'ground-fault'): JobCommand => ({
  kind: 'conclude-check',
  finding,
  sentence: 'as it looks',
  evidence: [],
});

describe('what the box sees against what it is told', () => {
  it('does not keep "lights on" while nothing changed, for a page or for a program', async () => {
    const t = await inCar();
    t.box.groundOffsetMicrovolt = 4_000;
    await t.do(capture('off'));
    // The second tap of a double tap: no lights have been switched on in between.
    expect(await t.refused(capture('lights'))).toBe('LOADS_NOT_SEEN');
    expect(t.desk.state.measurements.map((each) => each.loads)).toEqual(['off']);
    // 10 A of lamps through a body strap of 3 milliohm.
    t.box.groundOffsetMicrovolt = 34_000;
    await t.do(capture('lights'));
    expect(t.desk.state.measurements.at(-1)).toMatchObject({ loads: 'lights', value: 0.034, source: 'box' });
  });

  it('keeps it when somebody says that they are on all the same, and keeps who said so', async () => {
    const t = await inCar();
    t.box.groundOffsetMicrovolt = 4_000;
    await t.do(capture('off'));
    await t.do(capture('lights', true), 'phone');
    expect(t.desk.state.measurements.at(-1)).toMatchObject({ loads: 'lights', saidOn: true, by: 'phone' });
  });

  it('has nothing to compare with while nothing was measured with everything off', async () => {
    const t = await inCar();
    t.box.groundOffsetMicrovolt = 34_000;
    expect(await t.refused(capture('lights'))).toBe('OFF_NOT_MEASURED');
  });

  it('is not said by anybody but the box', async () => {
    const t = await inCar();
    const forged = { ...typed('supply-volt', 13.4), source: 'box' } as const;
    expect(await t.refused(forged)).toBe('NOT_THE_BOX');
  });

  it('takes the sender\u2019s ohms with its own ohmmeter', async () => {
    const t = await testBench();
    await t.do({ kind: 'capture-measurement', what: 'sender-ohm', loads: 'off' });
    expect(t.desk.state.measurements.at(-1)).toMatchObject({ what: 'sender-ohm', value: 110, source: 'box' });
  });
});

describe('the conclusion of a check', () => {
  it('is not "sound" over what nobody asked, and keeps what that was', async () => {
    const t = await testBench();
    await t.do(typed('supply-volt', 13.4));
    await t.do(typed('open-circuit-volt', 7.2));
    expect(await t.refused(conclude('sound'))).toBe('CHECK_NOT_WHOLE');
    await t.do(conclude('nothing-found'));
    const { conclusion } = t.desk.state;
    expect(conclusion?.notAsked).toContain('ohms of the sender at its connector');
    expect(conclusion?.notAsked).toContain('whether the needle moves with a known resistance');
    expect(conclusion?.notAsked?.join()).not.toMatch(/supply|ground|battery|vehicle/);
  });

  it('is "sound" on a bench once all of it was asked, but not while volts contradict each other', async () => {
    const t = await testBench();
    const ohm = (what: 'sender-ohm' | 'loaded-volt', value: number): JobCommand => ({
      kind: 'add-measurement',
      what,
      value,
      loads: 'off',
      source: 'person',
    });
    await t.do(typed('supply-volt', 12.2));
    await t.do(typed('open-circuit-volt', 13.5));
    await t.do(ohm('sender-ohm', 90));
    await t.do(ohm('loaded-volt', 5.9));
    await t.do({ kind: 'answer-check', question: 'needle-on-known-load', answer: 'there' });
    await t.do({ kind: 'answer-check', question: 'needle-both-ways', answer: 'yes' });
    expect(await t.refused(conclude('sound'))).toBe('CHECK_CONTRADICTS');
    await t.do(typed('open-circuit-volt', 12.1));
    await t.do(conclude('sound'));
    expect(t.desk.state.conclusion).toMatchObject({ finding: 'sound', notAsked: [] });
  });

  it('forgets what was asked before a fault was put right', async () => {
    const t = await testBench();
    await t.do(typed('supply-volt', 13.4));
    await t.do(conclude('ground-fault'));
    await t.do(conclude('nothing-found'));
    expect(t.desk.state.conclusion?.notAsked).toContain('supply at the gauge');
  });
});

describe('as found', () => {
  it('is asked again when it is far off the dial', async () => {
    const t = await testBench();
    const command = { kind: 'record-as-found', state: 'powered', indicated: 900 } as const;
    expect(await t.refused(command)).toBe('READING_OFF_SCALE');
  });
});
