export { drawVehicle, plantable } from './draw';
export { measure, worthOf } from './measure';
export type { Observer } from './measure';
export type { Vehicle } from './vehicle';
