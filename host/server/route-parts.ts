import type { BenchDoor } from './bench-door';
import type { BoxBay } from './box-bay';
import type { Callers } from './callers';
import type { Computer } from './findings/computer';
import { Devices } from './devices';
import type { Gate } from './gate';
import type { ServerLimits } from './limits';
import { Pairing } from './pairing';

export type AppParts = {
  readonly bench: BenchDoor;
  readonly bay: BoxBay;
  readonly computer: Computer;
  readonly callers: Callers;
  /** Paired devices; left out, none are kept. */
  readonly devices?: Devices | undefined;
  readonly pairing?: Pairing | undefined;
  readonly limits?: Partial<ServerLimits> | undefined;
  /** The built page; left out, only the API is served. */
  readonly webFolder?: string | undefined;
  readonly version: string;
};

/** What the routes are given: the parts, and what this run adds to them. */
export type RouteParts = AppParts & {
  readonly gate: Gate;
  readonly devices: Devices;
  readonly pairing: Pairing;
  /** Names the page that belongs to this host. */
  readonly build: string;
  /** Drawn anew for each run. */
  readonly stopToken: string;
};
