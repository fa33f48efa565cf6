import { boilCommand } from './boil';
import { budgetCommand } from './budget';
import { checkCommand } from './check';
import { calibrateCommand } from './calibrate';
import { catalogueCommand } from './catalogue';
import { chainCommand } from './chain';
import { clusterCommand } from './cluster';
import type { Command } from '../command';
import { curveCommand } from './curve';
import { holdCommand } from './hold';
import { identifyCommand } from './identify';
import { jobCommandLine } from './job';
import { matchCommand } from './match';
import { serveCommand } from './serve';
import { sweepCommand } from './sweep';
import { trimCommand } from './trim';
import { proofCommand } from './proof';
import { schemaCommand } from './schema';
import { recordCommand } from './record';
import { plotCommand } from './plot';
import { overlayCommand } from './overlay';
import { strapCommand } from './strap';
import { networkCommand } from './network';
import { portsCommand } from './ports';
import { senderCommand } from './sender';
import { watchCommand } from './watch';

/** Every command, in the order a job needs them. */
export const commands: readonly Command[] = [
  serveCommand,
  checkCommand,
  sweepCommand,
  jobCommandLine,
  recordCommand,
  plotCommand,
  curveCommand,
  senderCommand,
  trimCommand,
  matchCommand,
  networkCommand,
  chainCommand,
  proofCommand,
  strapCommand,
  overlayCommand,
  boilCommand,
  budgetCommand,
  identifyCommand,
  calibrateCommand,
  holdCommand,
  portsCommand,
  watchCommand,
  catalogueCommand,
  clusterCommand,
  schemaCommand,
];
