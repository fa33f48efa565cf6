export { Box } from './box/box';
export type { BootCause, Device, Storage, System } from './device';
export type { IoClasses } from './ecma419';
