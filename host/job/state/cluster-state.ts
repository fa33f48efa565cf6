import type { ClusterEvent, ClusterFeed, NeighbourSaid } from '../schema/cluster-events';

export type ClusterGauge = {
  readonly jobId: string;
  readonly place: string;
  readonly boxSerial?: number;
  readonly restOhm?: number;
};

export type ClusterSwept = Omit<Extract<ClusterEvent, { kind: 'swept' }>, 'n' | 'at' | 'by' | 'kind'>;

export type ClusterSweptByHand = Omit<
  Extract<ClusterEvent, { kind: 'swept-by-hand' }>,
  'n' | 'at' | 'by' | 'kind'
>;

/** A cluster as its journal leaves it. */
export type ClusterState = {
  readonly clusterId: string;
  readonly title: string;
  readonly vehicle: string;
  readonly simulated: boolean;
  readonly feed: ClusterFeed;
  readonly openedAt: string;
  readonly gauges: readonly ClusterGauge[];
  /** The last neighbour test; empty while there was none. */
  readonly neighbours: readonly NeighbourSaid[];
  readonly state: 'as-found' | 'as-left';
  readonly swept: readonly ClusterSwept[];
  readonly sweptByHand: readonly ClusterSweptByHand[];
};

const withGauge = (state: ClusterState, jobId: string, change: Partial<ClusterGauge>): ClusterState => ({
  ...state,
  gauges: state.gauges.map((gauge) => (gauge.jobId === jobId ? { ...gauge, ...change } : gauge)),
});

const without = (gauge: ClusterGauge, boxSerial: number): ClusterGauge => {
  if (gauge.boxSerial !== boxSerial) return gauge;
  const { boxSerial: _, ...rest } = gauge;
  return rest;
};

const next = (state: ClusterState, event: ClusterEvent): ClusterState => {
  switch (event.kind) {
    case 'gauge-added':
      return { ...state, gauges: [...state.gauges, { jobId: event.jobId, place: event.place }] };
    case 'gauge-removed':
      return { ...state, gauges: state.gauges.filter(({ jobId }) => jobId !== event.jobId) };
    case 'berth-assigned': {
      // A box is on one gauge: the last one that was said.
      const freed = { ...state, gauges: state.gauges.map((gauge) => without(gauge, event.boxSerial)) };
      return withGauge(freed, event.jobId, { boxSerial: event.boxSerial });
    }
    case 'rest-chosen':
      return withGauge(state, event.jobId, { restOhm: event.resistanceOhm });
    case 'neighbours-measured':
      return { ...state, neighbours: event.cells };
    case 'state-declared':
      return { ...state, state: event.state };
    case 'swept': {
      const { order, minutes, leastMinutes, readings, doubted } = event;
      return { ...state, swept: [...state.swept, { order, minutes, leastMinutes, readings, doubted }] };
    }
    case 'swept-by-hand': {
      const { jobId, sweepId, minutes, readings } = event;
      return { ...state, sweptByHand: [...state.sweptByHand, { jobId, sweepId, minutes, readings }] };
    }
    case 'cluster-opened':
    case 'roll-call':
    case 'note':
      return state;
  }
};

/** Folds a cluster's journal; undefined when it does not begin with its opening. */
export const foldCluster = (events: readonly ClusterEvent[]): ClusterState | undefined => {
  const [first, ...rest] = events;
  if (first?.kind !== 'cluster-opened') return undefined;
  const { clusterId, title, vehicle, simulated, feed, at } = first;
  const opened = { clusterId, title, vehicle, simulated, feed, openedAt: at };
  const empty = { gauges: [], neighbours: [], state: 'as-found', swept: [], sweptByHand: [] } as const;
  return rest.reduce(next, { ...opened, ...empty });
};
