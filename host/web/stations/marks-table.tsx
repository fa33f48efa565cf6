import type { JSX } from 'preact';
import type { GaugeCurve } from '../../core/curve/types';
import type { Gauge } from '../../job/schema/gauge';
import { GROUND_WORDS, wantedOhms, type WantedOhm } from '../../job/state/wanted-ohms';
import { markWords, sureOhm } from '../parts/words';
import { TableBox } from '../parts/table-box';

type MarksProps = { readonly gauge: Gauge; readonly curve: GaugeCurve; readonly caption: string };

/** The resistance that puts the needle on each mark: what a sender must have there. */
export function MarksTable({ gauge, curve, caption }: MarksProps): JSX.Element {
  return (
    <TableBox label="Table of marks">
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {['Mark', 'Resistance', '\u00b1 (95 %)'].map((heading) => (
              <th key={heading} scope="col" class="number">
                {heading}
              </th>
            ))}
            <th scope="col">How</th>
          </tr>
        </thead>
        <tbody>
          {wantedOhms(gauge, curve).map((wanted) => (
            <MarkRow key={wanted.reading} gauge={gauge} wanted={wanted} />
          ))}
        </tbody>
      </table>
    </TableBox>
  );
}

function MarkRow({ gauge, wanted }: { readonly gauge: Gauge; readonly wanted: WantedOhm }): JSX.Element {
  const { reading, at } = wanted;
  const [ohm, sure] = at === undefined ? [] : sureOhm(at.resistanceOhm, at.expandedUncertaintyOhm);
  return (
    <tr>
      <td class="number">{markWords(reading, gauge)}</td>
      <td class="number">{ohm ?? '\u2013'}</td>
      <td class="number">{sure}</td>
      <td>{at === undefined ? 'no resistance puts the needle there' : GROUND_WORDS[at.note]}</td>
    </tr>
  );
}
