export {
  atMostInCommonOhm,
  feedLawOf,
  neighbourCell,
  neighbourVerdict,
  suspectOf,
  type Deflection,
  type FeedLaw,
  type Measured,
  type NeighbourCell,
  type NeighbourVerdict,
  type Suspect,
  type Watched,
} from './neighbours';
export { neighbourOhms, UNTESTED_OHM, type BesideNeighbours } from './neighbour-ohms';
export { leastRunMs, readingOrder, type RunReading, type Waiter } from './queue';
export { FEWEST_READINGS, readInstead, type Band, type OtherNeedle } from './wrong-needle';
