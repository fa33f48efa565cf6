export { createServerApp } from './app';
export type { AppParts } from './route-parts';
export { createBoxBay, type BoxBay, type SimulationOptions } from './box-bay';
export { knownCallers, type Callers } from './callers';
export { startServer, USUAL_PORT, type RunningServer, type ServeOptions } from './serve';
