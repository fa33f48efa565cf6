export { Catalogue, type Entry, type Remark } from './catalogue';
export { CatalogueTrouble } from './sqlite';
export { verify, type Verified } from './verify';
export { type WorkedOut } from './worked-out';
export { counts, modelFinding, ofModel, type ModelFinding } from './models';
export { findModels, type FindTask, type FoundModels, type NamedCandidate } from './find';
export { exportOf } from './export';
export { readArchive, takeIn, type ReadArchive } from './import';
export { isZip } from './zip';
