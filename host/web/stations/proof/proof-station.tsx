import type { JSX } from 'preact';
import type { StationProps } from '../station-body';

export function ProofStation({ state }: StationProps): JSX.Element {
  return <p>{state.title}</p>;
}
