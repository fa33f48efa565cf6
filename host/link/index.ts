export { absentLink } from './absent-link';
export { systemClock } from './clock';
export { portFinder, type SourceFinder } from './find-port';
export { greetBoxes, type GreetedPort } from './greet-boxes';
export { guardLink, type GuardedLink, type OpenedForGood } from './guard-link';
export { keepLink, type KeepOptions } from './keep-link';
export { openLink, type LinkOptions } from './open-link';
export { listPorts, usbPorts, type PortIdentity, type PortList } from './ports';
export { linkProblem } from './problems';
export { notSerial, serialSource } from './serial-source';
export {
  simulatedBox,
  simulatedBoxProgram,
  builtProgram,
  type NeedleLook,
  type SimulatedBox,
  type SimulatedBoxOptions,
} from './simulated-box';
export {
  simulatedCluster,
  type ClusterLook,
  type SimulatedCluster,
  type SimulatedClusterOptions,
} from './simulated-cluster';
export { inOrder, within, type Ended, type EndingStep } from './within';
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
