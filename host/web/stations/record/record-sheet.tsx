import type { ComponentChildren, JSX } from 'preact';
import type { Findings } from '../../../job/findings';
import { DEFERS } from '../../../job/state/confirmations';
import type { Headline } from '../../../job/stations';
import { headlines } from '../../../words/headline';
import type { JobState } from '../../../job/state/state';
import { inPlaceWords } from '../../../words/at-work';
import { curveFacts } from '../../../words/curve-facts';
import { STATION_WORDS } from '../station-order';
import { shownSpread, MECHANISM_WORDS, shownOhm, shownUnit } from '../../parts/words';
import { fittedWords, networkWords } from '../../../words/fitted';
import { ProofTable } from '../proof/proof-table';
import { MarksTable } from '../marks-table';
import { methodWords } from '../../../words/method';
import { printed } from '../../../words/notation';

type SheetProps = { readonly state: JobState; readonly findings: Findings | undefined };

const day = (iso: string): string => iso.slice(0, 'yyyy-mm-dd'.length);

/** Everything measured and decided, on paper. Never called a certificate: nobody accredited this bench. */
export function RecordSheet({ state, findings }: SheetProps): JSX.Element {
  return (
    <article class="record stack" aria-label="Record of measurement">
      <header class="stack">
        <h3>Record of measurement</h3>
        <p>A record of measurement, not an accredited calibration.</p>
        {state.simulated ? <p class="simulated-tag">SIMULATED: no vehicle was measured</p> : null}
        <Facts state={state} />
      </header>
      <FindingList state={state} findings={findings} />
      <CurveTable state={state} findings={findings} />
      <SenderSummary state={state} findings={findings} />
      <Network state={state} />
      <ProofTable state={state} />
      <Remarks state={state} />
      <SaidForSafety state={state} />
      <p class="hint">
        Results relate only to the gauge, sender and wiring measured, on the dates given. End of record{' '}
        {state.jobId}.
      </p>
    </article>
  );
}

const dialUnitWords = ({ gauge, printed }: JobState): string =>
  printed === undefined
    ? shownUnit(gauge.unit)
    : `${shownUnit(printed.unit)}, shown here in ${shownUnit(gauge.unit)}`;

function Facts({ state }: { readonly state: JobState }): JSX.Element {
  const rows: readonly (readonly [string, string])[] = [
    ['Record', state.jobId],
    ['Item', `${state.title}, ${MECHANISM_WORDS[state.gauge.mechanism]}, dial in ${dialUnitWords(state)}`],
    ['Vehicle', state.vehicle],
    ['Place', state.place === 'car' ? 'in the vehicle' : 'on the bench'],
    ['Dates', `${day(state.openedAt)} to ${day(state.lastAt)}`],
    [
      'Box',
      state.box === undefined
        ? 'none used'
        : `serial ${state.box.boxSerial}, firmware ${state.box.firmware}${state.box.simulated ? ', SIMULATED' : ''}`,
    ],
    ['Complaint', state.complaint ?? 'none given'],
    ['Method', methodWords(state)],
  ];
  return (
    <table class="facts">
      <tbody>
        {rows.map(([name, value]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{value}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** A record does not say of itself whether it was made. */
const isFound = ({ station }: Headline): boolean => station !== 'record';

function FindingList({ state, findings }: SheetProps): JSX.Element {
  return (
    <Part title="Findings">
      <ul>
        {headlines(state, printed, curveFacts(findings, state))
          .filter(isFound)
          .map((headline) => (
            <li key={headline.station}>
              <strong>{STATION_WORDS[headline.station]}:</strong> {headline.text}
            </li>
          ))}
      </ul>
      {state.conclusion === undefined ? null : (
        <ul>
          {state.conclusion.evidence.map((line) => (
            <li key={line}>{line}</li>
          ))}
          {state.conclusion.notAsked?.map((words) => (
            <li key={words}>Not asked: {words}</li>
          ))}
        </ul>
      )}
    </Part>
  );
}

const Part = (props: { readonly title: string; readonly children: ComponentChildren }): JSX.Element => (
  <section class="stack">
    <h4>{props.title}</h4>
    {props.children}
  </section>
);

function CurveTable({ state, findings }: SheetProps): JSX.Element | null {
  const curve = findings?.curve?.curve;
  if (curve === undefined || curve.kind === 'refused') return null;
  return (
    <MarksTable gauge={state.gauge} curve={curve} caption={`Resistance at the marks (${curve.law.name})`} />
  );
}

function SenderSummary({ state, findings }: SheetProps): JSX.Element | null {
  const heatOf = (senderId: string, unit: string): string => {
    const found = findings?.senders.find((each) => each.senderId === senderId)?.inPlace;
    return found === undefined || found.kind === 'refused' ? '' : `. ${inPlaceWords(found, unit, printed)}`;
  };
  const counted = state.senderPoints.filter((point) => point.struckBecause === undefined);
  if (counted.length === 0) return null;
  return (
    <Part title="Senders">
      <ul>
        {state.senders.map((sender) => (
          <li key={sender.senderId}>
            {sender.title}
            {sender.tolerancePercent === undefined
              ? ''
              : ` (maker\u2019s tolerance \u00b1${sender.tolerancePercent} %)`}
            :{' '}
            {counted
              .filter((point) => point.senderId === sender.senderId)
              .map((point) => `${point.value} ${shownUnit(sender.unit)} = ${shownOhm(point.resistanceOhm)}`)
              .join('; ')}
            {heatOf(sender.senderId, sender.unit)}
          </li>
        ))}
      </ul>
    </Part>
  );
}

function Network({ state }: { readonly state: JobState }): JSX.Element | null {
  const { fitted, trimChosen } = state;
  if (fitted === undefined && trimChosen === undefined) return null;
  const title = fitted === undefined ? 'Network chosen; nobody said it is fitted' : 'Fitted';
  return (
    <Part title={title}>
      <p>
        {fitted === undefined && trimChosen !== undefined ? networkWords(trimChosen) : fittedWords(state)}
        {trimChosen === undefined || fitted?.fitted === 'nothing'
          ? ''
          : `. Worst error by computation ${shownSpread(trimChosen.worstError, state.gauge)}`}
        {fitted === undefined ? '' : `. Said by ${fitted.by}, ${day(fitted.at)}`}.
      </p>
    </Part>
  );
}

/** Who said what before a step that can hurt, and what comes before this sheet. */
function SaidForSafety({ state }: { readonly state: JobState }): JSX.Element {
  return (
    <Part title="Confirmed before the work">
      <ul>
        {state.saidForSafety.map((each) => (
          <li key={each.n}>
            {day(each.at)}, {each.by}: {each.sentence}
          </li>
        ))}
        <li>{DEFERS}</li>
      </ul>
    </Part>
  );
}

function Remarks({ state }: { readonly state: JobState }): JSX.Element | null {
  if (state.notes.length === 0) return null;
  return (
    <Part title="Remarks">
      <ul>
        {state.notes.map((note) => (
          <li key={note.n}>
            {day(note.at)}, {note.by}: {note.text}
          </li>
        ))}
      </ul>
    </Part>
  );
}
