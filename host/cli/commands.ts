import type { Command } from './command';
import { networkCommand } from './network';
import { senderCommand } from './sender';

/** Every command, in the order a job needs them. */
export const commands: readonly Command[] = [senderCommand, networkCommand];
