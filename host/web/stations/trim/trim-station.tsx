import type { JSX } from 'preact';
import type { StationProps } from '../station-body';

export function TrimStation({ state }: StationProps): JSX.Element {
  return <p>{state.title}</p>;
}
