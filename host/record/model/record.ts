import { DEFERS } from '../../job/state/confirmations';
import type { JobState } from '../../job/state/state';
import { senderInVehicle, senderNumbers } from '../../job/state/views';
import type { PhotographSubject } from '../../job/schema/photograph-subjects';
import { scaleOf } from '../../job/schema/scale';
import { limitOf, ruleOf } from '../../job/proof/verdict';
import { lawWords } from '../../words/curve-facts';
import { testName, valueWords } from '../../words/diagnosis';
import { dialWordsOf } from '../../words/dial-words';
import { measuredParts } from '../../words/measured';
import { methodWords } from '../../words/method';
import { adjustedWords } from '../../words/cluster';
import { printed } from '../../words/notation';
import { PHOTOGRAPH_WORDS } from '../../words/photograph';
import { limitWords, proofRemarkWords } from '../../words/proof';
import { proofRemarks } from '../../job/proof/proof-remarks';
import { estimateNow } from '../../job/proof/run-pairs';
import { driftWords, estimateWords, offerWords } from '../../words/proof-later';
import { asSentence, capital, counted } from '../../words/sentence';
import { MECHANISM_WORDS, shownReading, shownUnit } from '../../words/shown';
import { partsPlaced } from '../../words/trim-answer';
import { searchedSender, senderPoints, waysOut } from '../../scene/refused';
import { placedParts, refusedTrim, type RecordSource } from './context';
import { foundOf } from './found';
import type { Fact, PhotographRow, RecordModel } from './record-model';
import { budgetOf, failuresOf, marksOf, pairsOf, partsOf, readingsOf, sendersOf, whatIfOf } from './tables';

const dayOf = (iso: string): string => iso.slice(0, 'yyyy-mm-dd'.length);

/** The record of a job as data: nothing in it depends on paper, clock or machine. */
export function recordOf(source: RecordSource): RecordModel {
  const { state, findings } = source;
  const budget = budgetOf(source);
  const curve = findings.curve?.curve;
  return {
    schema: 'needlewright/record/1',
    jobId: state.jobId,
    title: state.title,
    simulated: state.simulated,
    program: source.program,
    journal: source.journal,
    unit: shownUnit(state.gauge.unit),
    quantity: state.gauge.quantity,
    firstDay: dayOf(state.openedAt),
    lastDay: dayOf(state.lastAt),
    shop: state.particulars?.shop,
    vehicle: state.vehicle,
    customer: state.particulars?.customer,
    particulars: particularsOf(state),
    found: foundOf(source),
    marks: marksOf(source),
    law: curve?.kind === 'curve' ? lawWords(curve, state) : undefined,
    budget: budget.rows,
    budgetAt: budget.at,
    readings: readingsOf(source),
    pairs: pairsOf(source),
    limit: limitOf(state).size,
    limitWords: limitWords(limitOf(state), state.gauge),
    rule: ruleOf(state),
    parts: partsOf(source),
    fitted: fittedOf(state),
    failures: failuresOf(source),
    whatIf: whatIfOf(source),
    ways: waysOf(source),
    senders: sendersOf(source),
    checks: checksOf(source),
    notAsked: state.conclusion?.notAsked ?? [],
    said: [
      ...state.saidForSafety.map((each) => `${dayOf(each.at)}, ${each.by}: ${each.sentence}`),
      ...(state.saidForSafety.length === 0 ? [] : [DEFERS]),
    ],
    method: asSentence(methodWords(state)),
    instruments: instrumentsOf(source),
    notes: state.notes.map((note) => `${dayOf(note.at)}, ${note.by}: ${note.text}`),
    adjustments: state.adjustments.map((each) => adjustmentWords(each, state)),
    struck: proofRemarks(state).map((remark) =>
      asSentence(proofRemarkWords(remark, state.gauge.unit, printed)),
    ),
    photographs: photographsOf(state),
  };
}

/** The dial first: it is what the record is about. */
const FIRST: readonly PhotographSubject[] = ['as-found', 'as-left', 'gauge'];

function photographsOf({ photographs }: JobState): PhotographRow[] {
  const kept = photographs.filter(({ struckBecause }) => struckBecause === undefined);
  const ordered = [
    ...FIRST.flatMap((subject) => kept.filter(({ of }) => of === subject)),
    ...kept.filter(({ of }) => !FIRST.includes(of)),
  ];
  return ordered.map(({ photographId, of, title, file, sha256 }) => ({
    photographId,
    title: title ?? PHOTOGRAPH_WORDS[of],
    file,
    sha256,
  }));
}

/** What there is of it, one after the other. */
const joined = (parts: readonly (string | undefined)[]): string =>
  parts.filter((each) => each !== undefined && each !== '').join(', ');

const numberWords = (serial: string | undefined, part: string | undefined): string =>
  joined([serial, part === undefined ? undefined : `part ${part}`]);

const dialWords = ({ gauge, printed: own }: JobState): string => {
  const { lowest, highest } = scaleOf((own ?? gauge).marks);
  const range = printed.range(lowest, highest, (own ?? gauge).unit);
  return own === undefined ? range : `${range}, shown here in ${shownUnit(gauge.unit)}`;
};

/** The title block, in the order in which it is read; what nobody gave stands empty, to be written in by hand. */
function particularsOf(state: JobState): Fact[] {
  const { particulars = {} } = state;
  const { odometer } = particulars;
  const sender = state.senders.find((each) => each.senderId === senderInVehicle(state));
  const ofSender =
    sender === undefined
      ? { serial: particulars.senderSerialNumber, part: particulars.senderPartNumber }
      : senderNumbers(state, sender);
  return [
    { name: 'Customer', value: particulars.customer ?? '' },
    { name: 'Vehicle', value: state.vehicle },
    { name: 'Registration', value: particulars.registration ?? '' },
    {
      name: 'Odometer',
      value:
        odometer === undefined
          ? ''
          : `${grouped(odometer.distance)} ${odometer.unit === 'mile' ? 'mi' : 'km'}`,
    },
    { name: 'Gauge', value: `${capital(MECHANISM_WORDS[state.gauge.mechanism])}, ${dialWords(state)}` },
    {
      name: 'Gauge serial',
      value: numberWords(particulars.gaugeSerialNumber, particulars.gaugePartNumber),
    },
    {
      name: 'Sender',
      value: joined([sender?.title, numberWords(ofSender.serial, ofSender.part)]),
    },
    { name: 'Technician', value: particulars.technician ?? '' },
    {
      name: 'Date of work',
      value:
        dayOf(state.openedAt) === dayOf(state.lastAt)
          ? dayOf(state.lastAt)
          : `${dayOf(state.openedAt)} to ${dayOf(state.lastAt)}`,
    },
  ];
}

/** What is in the sender's lead, and who said so. */
function fittedOf({ fitted }: JobState): string | undefined {
  if (fitted === undefined) return undefined;
  const parts = fitted.candidate === undefined ? [] : placedParts(fitted.candidate).parts;
  const what = parts.length === 0 ? 'nothing was added' : partsPlaced({ parts }, printed);
  return `${what}. Said by ${fitted.by}, ${dayOf(fitted.at)}.`;
}

/** Thousands apart by a narrow blank. Source: ISO 80000-1, 7.3.1. */
const grouped = (value: number): string => String(value).replace(/\B(?=(\d{3})+(?!\d))/g, '\u00a0');

function checksOf({ state, findings }: RecordSource): Fact[] {
  return [
    ...(state.complaint === undefined ? [] : [{ name: 'complaint', value: state.complaint }]),
    ...state.asFound.map((each) => ({
      name: `as found, ${each.state}`,
      value:
        each.atStop === undefined
          ? `needle at ${shownReading(each.indicated, state.gauge)}${each.reference === undefined ? '' : `, true ${shownReading(each.reference, state.gauge)}`}`
          : `needle on the ${each.atStop} stop${each.reference === undefined ? '' : `, true ${shownReading(each.reference, state.gauge)}`}`,
    })),
    ...state.measurements.map((each) => {
      const { what, size } = measuredParts(each, findings.check);
      return { name: what, value: size };
    }),
    ...state.tested.map(({ test, value, source }) => ({
      name: testName(test),
      value: `${valueWords(test, value, printed, dialWordsOf(state.gauge))} (${source === 'box' ? 'box' : 'by hand'})`,
    })),
    ...state.skippedTests.map(({ test, reason }) => ({
      name: testName(test),
      value: `not done${reason === undefined ? '' : `: ${reason}`}`,
    })),
    ...state.repairs.map(({ what, by, at }) => ({ name: 'mended', value: `${what}. ${by}, ${dayOf(at)}.` })),
    ...(state.conclusion?.evidence.map((line) => ({ name: 'found', value: line })) ?? []),
    ...(state.conclusion === undefined ? [] : [{ name: 'concluded', value: state.conclusion.sentence }]),
    ...laterOf(state),
  ];
}

/** What the pairs said of the sender, and every look a season later. */
function laterOf(state: JobState): Fact[] {
  const { unit } = state.gauge;
  const estimate = estimateNow(state);
  const offer = estimate === undefined ? undefined : offerWords(estimate, state, printed);
  return [
    ...(estimate === undefined
      ? []
      : [{ name: 'sender by the pairs', value: estimateWords(estimate, unit, printed) }]),
    ...(offer === undefined ? [] : [{ name: 'other resistors', value: offer }]),
    ...state.drifts.map((drift) => ({
      name: `looked at again, ${dayOf(drift.at)}`,
      value: driftWords(drift, unit, printed),
    })),
  ];
}

function instrumentsOf({ state, journal, program }: RecordSource): Fact[] {
  const { box } = state;
  const volts = state.readings.flatMap(({ supplyVolt }) => (supplyVolt === undefined ? [] : [supplyVolt]));
  const dash = state.sweeps.flatMap(({ dashCelsius }) => (dashCelsius === undefined ? [] : [dashCelsius]));
  const places = [
    ...new Set(state.proofPairs.flatMap(({ referencePlace: place }) => (place === undefined ? [] : [place]))),
  ];
  return [
    {
      name: 'Box',
      value:
        box === undefined
          ? 'none used'
          : `serial ${box.boxSerial}, firmware ${box.firmware}${box.simulated ? ', SIMULATED' : ''}`,
    },
    ...metersOf(state),
    ...places.map((place) => ({ name: 'Reference', value: place })),
    ...(volts.length === 0 ? [] : [{ name: 'Supply', value: rangeOf(volts, 'V') }]),
    ...(dash.length === 0 ? [] : [{ name: 'Dash air', value: rangeOf(dash, '\u00b0C') }]),
    { name: 'Place', value: state.place === 'car' ? 'in the vehicle' : 'on the bench' },
    { name: 'Program', value: `Needlewright ${program}` },
    {
      name: 'Journal',
      value: `${counted(journal.entries, 'entry', 'entries')}, sum ${sumWords(journal.sha256)}`,
    },
  ];
}

/** Enough of a SHA-256 that no two journals share it by chance, in fours. */
const sumWords = (sha256: string): string => (sha256.slice(0, 16).match(/.{4}/g) ?? []).join(' ');

const rangeOf = (values: readonly number[], unit: string): string => {
  const [least, most] = [Math.min(...values), Math.max(...values)].map((value) =>
    Number(value.toPrecision(3)),
  );
  return least === most ? `${least} ${unit}` : `${least} to ${most} ${unit}`;
};

/** The meters that a person measured with, each with the limits of its data sheet. */
function metersOf(state: JobState): Fact[] {
  const meters = [...state.readings, ...state.senderPoints, ...state.measurements].flatMap(({ ohmmeter }) =>
    ohmmeter === undefined ? [] : [ohmmeter],
  );
  const named = new Map(meters.map((meter) => [meter.name, meter]));
  return [...named.values()].map(({ name, limitPercent, limitOhm }) => {
    const limits = [
      ...(limitPercent === undefined ? [] : [`${limitPercent} %`]),
      ...(limitOhm === undefined || limitOhm === 0 ? [] : [printed.ohm(limitOhm)]),
    ];
    return { name: 'Ohmmeter', value: limits.length === 0 ? name : `${name}, \u00b1(${limits.join(' + ')})` };
  });
}

const adjustmentWords = (each: JobState['adjustments'][number], { gauge }: JobState): string =>
  `${dayOf(each.at)}, ${each.by}: ${adjustedWords(each, gauge.unit, printed)}`;

/** Ways that do work, where no resistors can do it. */
function waysOf(source: RecordSource): Fact[] {
  const refused = refusedTrim(source);
  const { state, findings } = source;
  const curve = findings.curve?.curve.kind === 'curve' ? findings.curve.curve : undefined;
  if (refused === undefined || !('nearest' in refused)) return [];
  const gives = senderPoints(state, findings, searchedSender(state));
  return waysOut(state, refused.code, curve, gives).map(({ does, gets }) => ({ name: does, value: gets }));
}
