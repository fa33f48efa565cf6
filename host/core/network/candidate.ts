import type { ErrorRow, Loaded } from './error-table';
import { errorRow } from './error-table';
import type { Task } from './task';
import type { Network, NetworkPart, Topology } from './topology';
import { wiringOf } from './topology';

export type CandidatePart = NetworkPart & { readonly tolerancePercent: number };

/** One network with everything a person should know before soldering it. Errors are indicated minus true, dial units. */
export type Candidate = {
  readonly topology: Topology;
  readonly wiring: string;
  readonly parts: readonly CandidatePart[];
  readonly worstError: number;
  readonly worstAt: number;
  readonly worstWeightedError: number;
  readonly rmsError: number;
  readonly keepsRule: boolean;
  readonly errorTable: readonly ErrorRow[];
};

const ROWS = 13;

/** Evenly spread samples and the worst one. */
const rowIndices = (count: number, worst: number): readonly number[] => {
  const even = Array.from({ length: Math.min(ROWS, count) }, (_, row) =>
    Math.round((row * (count - 1)) / (Math.min(ROWS, count) - 1)),
  );
  return [...new Set([...even, worst])].sort((one, other) => one - other);
};

/** The report on one network. Source: the parts of this folder it calls. */
export const candidateOf = (task: Task, network: Network, score: number): Candidate => {
  const { problem, sender, supply } = task;
  const loaded: Loaded = {
    gauge: problem.table.gauge,
    sender,
    network,
    tolerancePercent: supply.tolerancePercent,
  };
  const rows = Array.from(problem.value, (value) => errorRow(loaded, value));
  const sizes = rows.map((row) => Math.abs(row.error));
  const worst = sizes.indexOf(Math.max(...sizes));
  return {
    topology: network.topology,
    wiring: wiringOf[network.topology],
    parts: network.parts.map((part) => ({
      ...part,
      tolerancePercent: supply.tolerancePercent(part.resistanceOhm),
    })),
    worstError: sizes[worst]!,
    worstAt: rows[worst]!.trueValue,
    worstWeightedError: Math.max(...sizes.map((size, index) => size * problem.weight[index]!)),
    rmsError: Math.sqrt(sizes.reduce((sum, size) => sum + size * size, 0) / sizes.length),
    keepsRule: score <= problem.penalty,
    errorTable: rowIndices(rows.length, worst).map((index) => rows[index]!),
  };
};
