export { absentLink } from './absent-link';
export { systemClock } from './clock';
export { portFinder, type SourceFinder } from './find-port';
export { keepLink, type KeepOptions } from './keep-link';
export { openLink, type LinkOptions } from './open-link';
export { listPorts, usbPorts, type PortIdentity, type PortList } from './ports';
export { linkProblem } from './problems';
export { serialSource } from './serial-source';
export {
  simulatedBox,
  simulatedBoxProgram,
  type NeedleLook,
  type SimulatedBox,
  type SimulatedBoxOptions,
} from './simulated-box';
export type {
  BoxLink,
  ByteConnection,
  ByteListener,
  ByteSource,
  LinkClock,
  LinkEvent,
  LinkListener,
  LinkProblem,
  LinkProblemCode,
  LinkResult,
  LinkState,
  PortInfo,
} from './types';
