import { describe, expect, it } from 'vitest';
import { topologies } from '../../host/core/network';
import { explain, gauge, jobCommand, jobEvent, screenMessage } from '../../host/job';
import { coolantGauge, opened, readingOf, stamped } from './sample';

const [, reading] = stamped([opened, readingOf(1, 55)]);

describe('the door of events and commands', () => {
  it.each([
    ['an unknown field, by its name', { ...reading, colour: 'red' }, '"colour"'],
    ['a reading that is no number', { ...reading, reading: Number.NaN }, 'reading: must be a number'],
    ['a resistance below zero', { ...reading, resistanceOhm: -1 }, 'resistanceOhm: must be at least 0'],
    ['a leg that is not up or down', { ...reading, leg: 'sideways' }, 'leg: must be one of "up", "down"'],
    ['an event of no known kind', { ...reading, kind: 'guess' }, 'kind: is not one of those known here'],
    ['an event without a number', { ...reading, n: 0 }, 'n: must be at least 1'],
    ['half an event', { ...reading, n: 1.5 }, 'n: must be a whole number'],
    ['an event of no time', { ...reading, at: 'noon' }, 'at: must be a date and time'],
    ['an event of nobody', { ...reading, by: '' }, 'by: must not be empty'],
    ['an empty object', {}, 'kind: is not one of those known here'],
    ['a list', [], 'must be an object'],
  ])('refuses %s', (_what, value, place) => {
    const result = jobEvent.safeParse(value);
    expect(result.success).toBe(false);
    if (!result.success) expect(explain(result.error)).toContain(place);
  });

  it('takes every arrangement of resistors that can be offered, and no other', () => {
    const choose = (topology: string) =>
      jobCommand.safeParse({ kind: 'choose-trim', candidate: { topology, parts: [], worstError: 1 } })
        .success;
    expect(topologies.length).toBeGreaterThan(1);
    expect(topologies.filter((each) => !choose(each))).toEqual([]);
    expect(choose('star')).toBe(false);
  });

  it('refuses marks whose readings turn back along the arc', () => {
    const marks = [
      { label: 'a', reading: 1, angleFraction: 0 },
      { label: 'b', reading: 3, angleFraction: 0.5 },
      { label: 'c', reading: 2, angleFraction: 1 },
    ];
    expect(gauge.safeParse({ ...coolantGauge, marks }).success).toBe(false);
    expect(gauge.safeParse(coolantGauge).success).toBe(true);
  });

  it('takes a dial that falls along the arc', () => {
    const marks = [
      { label: 'F', reading: 100, angleFraction: 0 },
      { label: 'E', reading: 0, angleFraction: 1 },
    ];
    expect(gauge.safeParse({ ...coolantGauge, marks }).success).toBe(true);
  });

  it('lets nobody number or sign an event through a command', () => {
    const told = { kind: 'add-note', text: 'x', by: 'someone else' };
    const result = jobCommand.safeParse(told);
    expect(result.success ? '' : explain(result.error)).toContain('"by"');
  });

  it('names the place of what is wrong deep inside a message', () => {
    const message = {
      kind: 'command',
      id: 1,
      command: { kind: 'start-sweep', choice: { mode: 'seek', repeats: 99 } },
    };
    const result = screenMessage.safeParse(message);
    expect(result.success ? '' : explain(result.error)).toContain('command.choice.repeats');
  });
});
