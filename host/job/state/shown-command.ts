import type { CommandOf, JobCommand } from '../schema/commands';
import type { JobState } from './state';

/** Commands whose numbers are in a unit. */
const UNIT_COMMANDS = [
  'record-as-found',
  'start-sweep',
  'give-reading',
  'import-readings',
  'add-sender-point',
  'import-sender-points',
  'capture-sender-point',
  'take-watched-point',
  'check-self-heating',
  'request-trim',
  'choose-trim',
  'set-proof-limit',
  'choose-proof-rule',
  'add-proof-pair',
  'add-proof-substitution',
  'check-drift',
  'say-adjusted',
] as const;
export type UnitCommand = CommandOf<(typeof UNIT_COMMANDS)[number]>;

export const hasUnit = (command: JobCommand): command is UnitCommand =>
  UNIT_COMMANDS.some((kind) => kind === command.kind);

type Units = Pick<JobState, 'gauge' | 'senders'>;

export const ownUnitOf = (state: Units, command: UnitCommand): string =>
  'senderId' in command
    ? (state.senders.find((each) => each.senderId === command.senderId)?.unit ?? state.gauge.unit)
    : state.gauge.unit;

/**
 * The command of a screen, its numbers in the units that the screen shows: those of a sender in the sender's, which need
 * not be the dial's.
 */
export const inShownUnits = (command: JobCommand, shown: Units): JobCommand =>
  hasUnit(command) && command.unit === undefined ? { ...command, unit: ownUnitOf(shown, command) } : command;
