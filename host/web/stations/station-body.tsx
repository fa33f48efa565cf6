import type { JSX } from 'preact';
import type { Station } from '../../job/stations';
import { later } from '../parts/later';
import { CheckStation } from './check/check-station';
import { SweepStation } from './sweep/sweep-station';
import type { StationProps } from './station-props';

const SenderStation = later<StationProps>(
  async () => (await import('./sender/sender-station')).SenderStation,
);
const TrimStation = later<StationProps>(async () => (await import('./trim/trim-station')).TrimStation);
const ProofStation = later<StationProps>(async () => (await import('./proof/proof-station')).ProofStation);
const RecordStation = later<StationProps>(
  async () => (await import('./record/record-station')).RecordStation,
);

/** Where numbers are typed, a change of unit starts the fields anew: digits of one unit are never read in another. */
export function StationBody(props: StationProps & { readonly station: Station }): JSX.Element {
  const { unit } = props.state.gauge;
  switch (props.station) {
    case 'check':
      return <CheckStation key={unit} {...props} />;
    case 'sweep':
      return <SweepStation {...props} />;
    case 'sender':
      return <SenderStation {...props} />;
    case 'trim':
      return <TrimStation key={unit} {...props} />;
    case 'proof':
      return <ProofStation {...props} />;
    case 'record':
      return <RecordStation {...props} />;
  }
}
