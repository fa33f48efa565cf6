import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { SendersForGauge, SuitedSender } from '../../job/wire/catalogue-messages';
import type { Refusal } from '../../job/wire/job-messages';
import { heatWords } from '../../words/at-work';
import { printed } from '../../words/notation';
import { placeWords } from '../../words/network';
import { counted, listed } from '../../words/sentence';
import type { Answer } from '../connection/http';
import { Note } from './note';
import { TableBox } from './table-box';
import { shownPart, shownUnit } from './words';

/** More are nobody's choice. */
const MOST_SHOWN = 12;

type SuitedProps = { readonly ask: () => Promise<Answer<SendersForGauge>> };

/** The senders of the catalogue that suit a gauge, best first, each alone and with resistors; asked when it is opened. */
export function SuitedSenders({ ask }: SuitedProps): JSX.Element {
  const [answer, setAnswer] = useState<SendersForGauge | Refusal | undefined>(undefined);
  const [isAsked, setAsked] = useState(false);
  const open = async (): Promise<void> => {
    setAsked(true);
    const got = await ask();
    setAnswer(got.kind === 'answer' ? got.body : got);
  };
  return (
    <details
      class={isAsked ? 'fold' : 'fold screen-only'}
      onToggle={(event) => {
        if (event.currentTarget.open && !isAsked) void open();
      }}
    >
      <summary>
        <span>
          Which sender suits it <span class="soft">from the catalogue, by the worst error</span>
        </span>
      </summary>
      <div class="stack fold-body" role="status">
        {answer === undefined ? <p class="soft">Searching resistors for every sender.</p> : null}
        {answer?.kind === 'refused' ? (
          <Note kind="wrong">
            <p>{answer.message}</p>
          </Note>
        ) : null}
        {answer?.kind === 'senders-for-gauge' ? <Ranked answer={answer} /> : null}
      </div>
    </details>
  );
}

function Ranked({ answer }: { readonly answer: SendersForGauge }): JSX.Element {
  const { senders, unusable, unit } = answer;
  if (senders.length === 0 && unusable.length === 0)
    return <p class="soft">The catalogue holds no sender that measures what this gauge shows.</p>;
  const shown = senders.slice(0, MOST_SHOWN);
  return (
    <>
      <TableBox label="Senders, best first">
        <table>
          <thead>
            <tr>
              <th scope="col">Sender</th>
              <th scope="col">With resistors, {shownUnit(unit)} off at most</th>
              <th scope="col">Which</th>
              <th scope="col">As it is, {shownUnit(unit)} off</th>
              <th scope="col">To the safe side</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((sender) => (
              <tr key={sender.card}>
                <th scope="row">
                  <a href={addressOf(sender)}>{sender.name}</a>
                  {sender.isDemo ? ' DEMO' : sender.isSimulated ? ' SIMULATED' : ''}
                </th>
                <td class="number">{off(sender.worst)}</td>
                <td>{partsWords(sender)}</td>
                <td class="number">{off(sender.alone)}</td>
                <td>{sender.keepsRule ? 'yes' : 'no'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
      {senders.length > shown.length ? <p class="hint">and {senders.length - shown.length} more.</p> : null}
      {unusable.length === 0 ? null : (
        <p class="hint">
          {counted(unusable.length, 'sender')} cannot be compared:{' '}
          {listed(
            unusable.slice(0, MOST_SHOWN).map(({ name, why }) => `${name} (${why.replace(/\.$/, '')})`),
          )}
          .
        </p>
      )}
      {[...new Set(shown.map(({ heat }) => heatWords(heat, unit, printed)))].map((words) => (
        <p key={words} class="hint">
          {words}
        </p>
      ))}
      <p class="hint">
        Worst error over the part of the dial that both curves know. Measure the one you take before you
        solder.
      </p>
    </>
  );
}

const addressOf = ({ model, card }: SuitedSender): string =>
  model === undefined ? `#/catalogue/card/${card}` : `#/catalogue/model/${encodeURIComponent(model)}`;

const FIGURES = 2;
const off = (error: number): string => String(Number(error.toPrecision(FIGURES)));

const partsWords = ({ parts }: SuitedSender): string =>
  parts.length === 0
    ? 'none needed'
    : parts.map(({ place, resistanceOhm }) => `${shownPart(resistanceOhm)} ${placeWords[place]}`).join(', ');
