import { catalogueCommand } from './catalogue';
import type { Command } from './command';
import { networkCommand } from './network';
import { portsCommand } from './ports';
import { senderCommand } from './sender';
import { watchCommand } from './watch';

/** Every command, in the order a job needs them. */
export const commands: readonly Command[] = [
  senderCommand,
  networkCommand,
  portsCommand,
  watchCommand,
  catalogueCommand,
];
