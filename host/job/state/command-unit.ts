import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, JobCommand } from '../schema/commands';
import type { EventBody } from '../schema/events';
import { hasUnit, ownUnitOf, type UnitCommand } from './shown-command';
import { turned, turnedLimit, turnedTrimOptions, turnOf, type Turn } from './shown-unit';
import type { JobState } from './state';
import type { Given } from '../schema/values';

/** A command with its numbers in the dial's own unit (the sender's own for a sender), and what was typed if that was another. */
export type Understood = {
  readonly kind: 'understood';
  readonly command: JobCommand;
  readonly given?: Given;
};

/**
 * Brings a command to the units the job keeps. Source: derived here; tests/job/shown-unit.test.ts.
 * Refuses: UNIT_UNKNOWN, a unit that cannot be turned into the one that is kept.
 */
export const understood = (state: JobState, command: JobCommand): Understood | Refused<'UNIT_UNKNOWN'> => {
  if (!hasUnit(command)) return { kind: 'understood', command };
  const { unit, ...bare } = command;
  const own = ownUnitOf(state, command);
  if (unit === undefined || unit === own) return { kind: 'understood', command: bare };
  const turn = turnOf(unit, own);
  if (turn === undefined) return refuse('UNIT_UNKNOWN', { unit, own });
  return { kind: 'understood', command: inOwnUnit(bare, turn), given: { unit, numbers: numbersOf(bare) } };
};

type Bare = UnitCommand extends infer Each ? (Each extends UnitCommand ? Omit<Each, 'unit'> : never) : never;
const FOUND = { values: ['indicated', 'reference'], sizes: ['referenceUncertainty'] } as const;
const PAIR = { values: FOUND.values, sizes: ['referenceUncertainty', 'ratePerMinute'] } as const;

const inOwnUnit = (command: Bare, turn: Turn): JobCommand => {
  switch (command.kind) {
    case 'record-as-found':
      return turned(turn, command, FOUND);
    case 'add-proof-pair':
      return turned(turn, command, PAIR);
    case 'check-drift':
      return turned(turn, command, { ...PAIR, sizes: [...PAIR.sizes, 'restOff'] });
    case 'add-proof-substitution':
      return turned(turn, command, { values: ['indicated'] });
    case 'give-reading':
      return turned(turn, command, { values: ['reading'], sizes: ['readingUncertainty'] });
    case 'say-adjusted':
      return turned(turn, command, { sizes: ['movedBy'] });
    case 'add-sender-point':
    case 'capture-sender-point':
    case 'take-watched-point':
      return turned(turn, command, { values: ['value'], sizes: ['valueUncertainty'] });
    case 'check-self-heating':
      return turned(turn, command, { values: ['value'] });
    case 'import-readings':
      return {
        ...command,
        readings: command.readings.map((one) =>
          turned(turn, one, { values: ['reading'], sizes: ['readingUncertainty'] }),
        ),
      };
    case 'import-sender-points':
      return {
        ...command,
        points: command.points.map((point) =>
          turned(turn, point, { values: ['value'], sizes: ['valueUncertainty'] }),
        ),
      };
    case 'start-sweep':
      return { ...command, choice: turnedChoice(turn, command.choice) };
    case 'request-trim':
      return { ...command, options: turnedTrimOptions(turn, command.options) };
    case 'choose-trim':
      return {
        ...command,
        candidate: turned(turn, command.candidate, { sizes: ['worstError', 'rmsError'] }),
      };
    case 'set-proof-limit':
    case 'choose-proof-rule':
      return { ...command, limit: turnedLimit(turn, command.limit) };
  }
};

type SweepChoice = CommandOf<'start-sweep'>['choice'];
const turnedChoice = (turn: Turn, choice: SweepChoice): SweepChoice =>
  choice.readings === undefined ? choice : { ...choice, readings: choice.readings.map(turn.value) };

/** Every number a person typed into this command, under its field's name. */
const TYPED = [
  'reading',
  'readingUncertainty',
  'indicated',
  'reference',
  'referenceUncertainty',
  'value',
  'valueUncertainty',
  'movedBy',
  'restOff',
];
const numbersOf = (command: Bare): Given['numbers'] =>
  Object.fromEntries(
    Object.entries(command).flatMap(([name, value]): [string, number][] =>
      TYPED.includes(name) && typeof value === 'number' ? [[name, value]] : [],
    ),
  );

/** What was typed goes beside the number it became. An imported table keeps each row's own value. */
export const withGiven = (
  bodies: readonly EventBody[],
  given: Given | undefined,
  command: JobCommand,
): readonly EventBody[] => {
  if (given === undefined) return bodies;
  const rows =
    command.kind === 'import-sender-points'
      ? command.points.map(({ value }) => ({ value }))
      : command.kind === 'import-readings'
        ? command.readings.map(({ reading }) => ({ reading }))
        : [];
  let row = 0;
  return bodies.map((body) => {
    if (body.kind === 'sender-point' || (body.kind === 'reading' && rows.length > 0)) {
      const numbers = rows[row];
      row += 1;
      return { ...body, given: numbers === undefined ? given : { unit: given.unit, numbers } };
    }
    const isTyped =
      body.kind === 'as-found' ||
      body.kind === 'reading' ||
      body.kind === 'needle-noted' ||
      body.kind === 'proof-pair' ||
      body.kind === 'drift-checked' ||
      body.kind === 'adjustment-made' ||
      body.kind === 'self-heating';
    return isTyped ? { ...body, given } : body;
  });
};
