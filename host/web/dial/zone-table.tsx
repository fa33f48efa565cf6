import type { JSX } from 'preact';
import type { Gauge } from '../../job/schema/gauge';
import { TableBox } from '../parts/table-box';
import { CellNumber } from './cells';
import { marksAlongArc } from './dial-geometry';

type Zone = NonNullable<Gauge['zones']>[number];

const MEANINGS: readonly (readonly [Zone['meaning'], string])[] = [
  ['danger', 'Red'],
  ['caution', 'Amber'],
  ['normal', 'Green'],
];

type ZoneTableProps = {
  readonly gauge: Gauge;
  readonly onZones: (zones: Zone[]) => void;
};

/** Coloured zones of the scale, by the values they run between. */
export function ZoneTable({ gauge, onZones }: ZoneTableProps): JSX.Element {
  const zones = gauge.zones ?? [];
  const put = (index: number, part: Partial<Zone>): void =>
    onZones(zones.map((zone, place) => (place === index ? { ...zone, ...part } : zone)));
  return (
    <>
      {zones.length === 0 ? null : (
        <TableBox label="Table of zones">
          <table>
            <caption>Zones</caption>
            <thead>
              <tr>
                <th scope="col">Colour</th>
                <th scope="col">From</th>
                <th scope="col">To</th>
                <th scope="col">
                  <span class="unseen">Take away</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {zones.map((zone, index) => (
                <ZoneRow
                  key={index}
                  zone={zone}
                  number={index + 1}
                  onEdit={(part) => put(index, part)}
                  onRemove={() => onZones(zones.filter((_, place) => place !== index))}
                />
              ))}
            </tbody>
          </table>
        </TableBox>
      )}
      <div class="row">
        <button type="button" class="button" onClick={() => onZones([...zones, lastGap(gauge)])}>
          Add a zone
        </button>
      </div>
    </>
  );
}

/** A red zone is most often the last stretch of the scale. */
function lastGap(gauge: Gauge): Zone {
  const ordered = marksAlongArc(gauge.marks);
  const toReading = ordered.at(-1)?.reading ?? 0;
  return { fromReading: ordered.at(-2)?.reading ?? toReading, toReading, meaning: 'danger' };
}

type ZoneRowProps = {
  readonly zone: Zone;
  readonly number: number;
  readonly onEdit: (part: Partial<Zone>) => void;
  readonly onRemove: () => void;
};

function ZoneRow({ zone, number, onEdit, onRemove }: ZoneRowProps): JSX.Element {
  return (
    <tr>
      <td>
        <select
          class="bare"
          aria-label={`Colour of zone ${number}`}
          value={zone.meaning}
          onChange={(event) => {
            const found = MEANINGS.find(([meaning]) => meaning === event.currentTarget.value);
            if (found !== undefined) onEdit({ meaning: found[0] });
          }}
        >
          {MEANINGS.map(([meaning, words]) => (
            <option key={meaning} value={meaning}>
              {words}
            </option>
          ))}
        </select>
      </td>
      <td>
        <CellNumber
          name={`Zone ${number} from`}
          value={zone.fromReading}
          onValue={(fromReading) => onEdit({ fromReading })}
        />
      </td>
      <td>
        <CellNumber
          name={`Zone ${number} to`}
          value={zone.toReading}
          onValue={(toReading) => onEdit({ toReading })}
        />
      </td>
      <td>
        <button
          type="button"
          class="button button-plain"
          aria-label={`Take away zone ${number}`}
          onClick={onRemove}
        >
          {'\u2715'}
        </button>
      </td>
    </tr>
  );
}
