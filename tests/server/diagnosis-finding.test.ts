import { describe, expect, it } from 'vitest';
import type { EventBody } from '../../host/job';
import { foldJob } from '../../host/job/state/fold';
import { diagnosisFinding } from '../../host/server/findings/diagnosis-finding';
import { tasksOf } from '../../host/server/findings/tasks';
import type { TestName } from '../../host/core/diagnosis';
import { opened, stamped } from '../job/sample';

const way: EventBody = { kind: 'check-answered', question: 'check-way', answer: 'meter' };
const found: EventBody = { kind: 'as-found', state: 'idling', indicated: 62, reference: 90 };
const read = (test: TestName, value: number): EventBody => ({
  ...{ kind: 'check-tested', test, value, source: 'person' },
});
const findingOf = (bodies: readonly EventBody[]) => {
  const state = foldJob(stamped([opened, ...bodies]));
  const task = state === undefined ? undefined : tasksOf(state).diagnosis;
  return task === undefined ? undefined : diagnosisFinding(task);
};

describe('what a check comes to, for the page', () => {
  it('is the next test with what to do and why, and words without a figure of belief', () => {
    const finding = findingOf([way, found]);
    expect(finding?.next?.how.length).toBeGreaterThan(20);
    expect(finding?.next?.why).toMatch(/between/);
    expect(finding?.suspects.length).toBeGreaterThan(1);
    for (const { words, belief } of finding?.suspects ?? []) expect(`${words} ${belief}`).not.toMatch(/\d/);
    expect(finding?.finding).toBe('undetermined');
    expect(finding?.ofN).toBe(3);
  });

  it('names a corroded wire with its remedy once its ohms were read twice, and tells places on the dial', () => {
    // 10 V through 58 and 49 ohm and a sender of 64 or a load of 110 ohm: (168/217)^2 of the heat. Source: Ohm's law.
    const finding = findingOf([
      ...[way, found, read('sender-plug', 64), read('middle-load', 0.2)],
      ...[read('wire-ohm', 49), read('wire-ohm', 49.3)],
    ]);
    expect(finding?.finding).toBe('wire-fault');
    expect(finding?.sentence).toMatch(/^It is the sender wire: corroded/);
    expect(finding?.named[0]?.remedy).toMatch(/wire/);
    expect(finding?.evidence.join('\n')).toMatch(/49 \u03a9/);
    expect(finding?.evidence.join('\n')).toMatch(/\d \u00b0C/);
    expect(finding?.next).toBeUndefined();
  });

  it('is asked for no more once it is concluded, and again after a repair', () => {
    const concluded: EventBody = {
      ...{ kind: 'check-concluded', finding: 'wire-fault', sentence: 'It is the wire.', evidence: [] },
    };
    expect(findingOf([way, found, concluded])).toBeUndefined();
    expect(findingOf([way, found, concluded, { kind: 'repair-made', what: 'wire' }])?.ofN).toBe(5);
  });

  it('is not there where nobody said how they work, or for a gauge that nobody knows', () => {
    expect(findingOf([found])).toBeUndefined();
    const gauge =
      opened.kind === 'job-opened' ? { ...opened.gauge, mechanism: 'unknown' as const } : undefined;
    expect(findingOf([way, found, { kind: 'job-changed', ...(gauge && { gauge }) }])).toBeUndefined();
  });
});
