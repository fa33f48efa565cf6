import { boilCommand } from './boil';
import { budgetCommand } from './budget';
import { catalogueCommand } from './catalogue';
import type { Command } from './command';
import { curveCommand } from './curve';
import { matchCommand } from './match';
import { trimCommand } from './trim';
import { networkCommand } from './network';
import { portsCommand } from './ports';
import { senderCommand } from './sender';
import { watchCommand } from './watch';

/** Every command, in the order a job needs them. */
export const commands: readonly Command[] = [
  curveCommand,
  senderCommand,
  trimCommand,
  matchCommand,
  networkCommand,
  boilCommand,
  budgetCommand,
  portsCommand,
  watchCommand,
  catalogueCommand,
];
