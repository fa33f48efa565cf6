import type { JSX } from 'preact';
import type { StationProps } from '../station-body';

export function RecordStation({ state }: StationProps): JSX.Element {
  return <p>{state.title}</p>;
}
