export { Box } from './box/box';
export type { BootCause, Device, Sector, System } from './device';
export type { IoClasses } from './ecma419';
