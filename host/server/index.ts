export { createServerApp, type AppParts } from './app';
export { createBoxBay, type BoxBay, type SimulationOptions } from './box-bay';
export { knownCallers, type Callers } from './callers';
export { startServer, USUAL_PORT, type RunningServer, type ServeOptions } from './serve';
