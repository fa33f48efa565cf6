import type { JSX } from 'preact';
import type { TableTaken } from '../../job/wire/catalogue-messages';
import { tableCardWords } from '../../words/catalogue';
import { asSentence } from '../../words/sentence';
import { TableBox } from '../parts/table-box';

/** What is understood of one table: its curves, and every row that is left out with its reason. */
export function Understood({ taken }: { readonly taken: TableTaken | undefined }): JSX.Element | null {
  if (taken === undefined) return null;
  const { cards, leftOut, leftOutCount, warnings } = taken;
  return (
    <>
      {cards.length === 0 ? null : (
        <ul>
          {cards.map((card, index) => (
            <li key={index}>{tableCardWords(card)}</li>
          ))}
        </ul>
      )}
      {warnings.map((warning) => (
        <p key={warning} class="hint">
          {asSentence(warning)}
        </p>
      ))}
      {leftOutCount === 0 ? null : (
        <TableBox label="What is left out">
          <table>
            <caption>
              Left out: {leftOutCount}. Nothing is lost: the rows stay in the field, to be mended there.
            </caption>
            <thead>
              <tr>
                <th scope="col">Row</th>
                <th scope="col">It says</th>
                <th scope="col">What to do</th>
              </tr>
            </thead>
            <tbody>
              {leftOut.map(({ row, text, column, message }, index) => (
                <tr key={index}>
                  <td class="number">{row ?? ''}</td>
                  <td>{text?.trim() ?? ''}</td>
                  <td class="wrong">
                    {column === undefined ? '' : `${column}: `}
                    {message}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </TableBox>
      )}
      {leftOutCount > leftOut.length ? <p>and {leftOutCount - leftOut.length} more.</p> : null}
    </>
  );
}
