import { faultSentence, stateName } from '../../../protocol';
import type { Refused } from '../../core/result';
import { about, passedOn, refuse } from '../../refusals';
import type { BoxLink } from '../../link';
import { driftWarnings, largestStepOf, objectionTo } from './bands';
import {
  confirmationTexts,
  faultText,
  notRepeated,
  rowTroubleText,
  stoppedRefusal,
  unknownText,
} from './texts';
import { RESIDUAL_ROW, readElementTable, rowOf } from './element-table';
import type { ElementTable, TableRow } from './element-table';
import { checkStandard, type StandardReading } from './outside-standard';

const CHANNEL = 0;
/** Contacts close a little differently each time: the box takes the mean of the residuals of one calibration. */
const RESIDUAL_ROUNDS = 4;
/** Measured once more after the clips were fitted again: R5, R9 (or the last there is), and the residual with the clips. */
const REPEATED_ROWS = [4, 8] as const;
const REPEAT_OHM = 0.03;
const REPEAT_FRACTION = 0.001;
/** Sixteen contacts that repeat within 10 milliohm each, three times over, and a clip. */
const RESIDUAL_REPEAT_OHM = 0.15;
/** What is read back is rounded to whole milliohms. */
const READ_BACK_OHM = 0.0011;

export type CalibrationStep =
  | 'clear-trip'
  | 'clips-off'
  | 'standard-on'
  | 'clips-on-posts'
  | 'clips-fitted-again'
  | 'store';

/** What a person does and sees during a calibration. */
export type CalibrationPerson = {
  /** What the box works with now, before anything is asked. */
  readonly found: (old: ElementTable) => void;
  /** Answers true when the person says that the step is done. */
  readonly confirm: (step: CalibrationStep, text: string) => Promise<boolean>;
  readonly measured: (row: TableRow, progress: { readonly done: number; readonly total: number }) => void;
  /** The whole new table, before anything is stored. */
  readonly compared: (finding: CalibrationFinding) => void;
};

/** The new table against the old one. */
export type CalibrationFinding = {
  readonly old: ElementTable;
  readonly rows: readonly TableRow[];
  /** Reasons for which the table is not stored, each with what to check. */
  readonly objections: readonly string[];
  readonly warnings: readonly string[];
  readonly largestStepOhm: number;
  readonly standard: readonly StandardReading[];
};

export type CalibrationOptions = {
  readonly person: CalibrationPerson;
  /** Value of a resistor known from elsewhere; it is measured before anything else. */
  readonly standardOhm?: number | undefined;
  readonly calibrationId: number;
  readonly validDayCount: number;
  readonly signal: AbortSignal;
  /** Closes the link and greets the box anew, to read back what it really keeps. */
  readonly greetAnew: () => Promise<BoxLink | Refused>;
};

export type Calibrated = CalibrationFinding & {
  readonly kind: 'calibrated';
  /** As the box tells it after a new greeting. */
  readonly stored: ElementTable;
};

/**
 * The whole self-calibration of hardware-notes/calibration.md over a live link: measures every row, judges the table,
 * stores it in two copies and reads it back. Nothing is stored before the last confirmation, so whatever is refused
 * before leaves the old table in use. Refuses what the box, the link or the person refuses, and a table that cannot be
 * right (CALIBRATION_IMPLAUSIBLE, CALIBRATION_NOT_REPEATED).
 */
export async function calibrate(link: BoxLink, options: CalibrationOptions): Promise<Calibrated | Refused> {
  const old = await readElementTable(link);
  if (old.kind === 'refused') return old;
  options.person.found(old);
  const halt = (): void => void link.request('open', { channel: CHANNEL });
  options.signal.addEventListener('abort', halt);
  try {
    const run = new CalibrationRun(link, options, old);
    const finding = await run.measure();
    if ('kind' in finding) return about(finding, (message) => `${message} ${keepsText(old)}`);
    return await run.store(finding);
  } finally {
    options.signal.removeEventListener('abort', halt);
  }
}

const keepsText = ({ calibration }: ElementTable): string =>
  calibration === undefined
    ? 'Nothing was stored: the box has no good table and does not arm.'
    : `Nothing was stored: the box keeps calibration ${calibration.calibrationId} of ${calibration.madeOn}.`;

class CalibrationRun {
  readonly #link: BoxLink;
  readonly #options: CalibrationOptions;
  readonly #old: ElementTable;
  readonly #rows = new Map<number, TableRow>();

  constructor(link: BoxLink, options: CalibrationOptions, old: ElementTable) {
    this.#link = link;
    this.#options = options;
    this.#old = old;
  }

  /** Everything up to the judged table. */
  async measure(): Promise<CalibrationFinding | Refused> {
    const begun = (await this.#clearTrip()) ?? (await this.#confirm('clips-off'));
    if (begun !== undefined) return begun;
    const standard = await this.#standard();
    if ('kind' in standard) return standard;
    const stopped =
      (await this.#confirm('clips-on-posts')) ??
      (await this.#measureAll()) ??
      (await this.#confirm('clips-fitted-again')) ??
      (await this.#repeat());
    if (stopped !== undefined) return stopped;
    const finding = this.#judge(standard);
    this.#options.person.compared(finding);
    const [first] = finding.objections;
    return first === undefined
      ? finding
      : refuse('CALIBRATION_IMPLAUSIBLE', { objections: finding.objections });
  }

  /** Asks once more, stores, and reads back over a new greeting. */
  async store(finding: CalibrationFinding): Promise<Calibrated | Refused> {
    const declined = await this.#confirm('store');
    if (declined !== undefined) return about(declined, (message) => `${message} ${keepsText(this.#old)}`);
    const { calibrationId, validDayCount, greetAnew } = this.#options;
    const result = await this.#link.request('calibrateStore', {
      channel: CHANNEL,
      calibrationId,
      validDayCount,
    });
    if (result.kind === 'refused') return about(result, (message) => `Not stored: ${message}`);
    const anew = await greetAnew();
    const stored = 'kind' in anew ? anew : await readElementTable(anew);
    if (stored.kind === 'refused') return about(stored, (message) => unknownText(message, calibrationId));
    if (stored.calibration?.calibrationId !== calibrationId) {
      return refuse('CALIBRATION_NOT_STORED', { keeps: keepsText(stored) });
    }
    const wrong = stored.rows.find(({ index, ohm }) => !this.#isAsMeasured(index, ohm));
    if (wrong !== undefined) {
      return refuse('CALIBRATION_READ_BACK', { name: wrong.name, ohm: wrong.ohm });
    }
    return { kind: 'calibrated', ...finding, stored };
  }

  #isAsMeasured(index: number, ohm: number): boolean {
    return Math.abs(ohm - (this.#rows.get(index)?.ohm ?? -1)) <= READ_BACK_OHM;
  }

  #judge(standard: readonly StandardReading[]): CalibrationFinding {
    const rows = this.#old.chain.rows
      .map((index) => this.#rows.get(index))
      .filter((row) => row !== undefined);
    const objections = rows.map(objectionTo).filter((objection) => objection !== undefined);
    const warnings = this.#old.calibration === undefined ? [] : driftWarnings(rows, this.#old.rows);
    return { old: this.#old, rows, objections, warnings, largestStepOhm: largestStepOf(rows), standard };
  }

  async #clearTrip(): Promise<Refused | undefined> {
    const beat = await this.#link.request('heartbeat', { channel: CHANNEL });
    if (beat.kind !== 'answer') return passedOn(beat);
    if (stateName(beat.fields.state) !== 'tripped') return undefined;
    const { faultCode } = beat.fields;
    const declined = await this.#confirm('clear-trip', faultText(faultCode));
    if (declined !== undefined) return declined;
    const cleared = await this.#link.request('clear', { channel: CHANNEL, faultCode });
    return cleared.kind === 'answer' ? undefined : passedOn(cleared);
  }

  async #standard(): Promise<readonly StandardReading[] | Refused> {
    const { standardOhm } = this.#options;
    if (standardOhm === undefined) return [];
    const declined = await this.#confirm('standard-on', `${standardOhm} ohm`);
    return declined ?? this.#unlessStopped(await checkStandard(this.#link, standardOhm));
  }

  async #measureAll(): Promise<Refused | undefined> {
    const order = [
      ...Array.from({ length: RESIDUAL_ROUNDS }, () => RESIDUAL_ROW),
      ...this.#old.chain.rows.filter((index) => index !== RESIDUAL_ROW),
    ];
    for (const [done, index] of order.entries()) {
      const row = await this.#measureRow(index);
      if ('kind' in row) return row;
      this.#options.person.measured(row, { done: done + 1, total: order.length });
    }
    return undefined;
  }

  async #repeat(): Promise<Refused | undefined> {
    const lastElement = this.#old.chain.rows.length - 3;
    for (const wanted of REPEATED_ROWS) {
      const index = Math.min(wanted, lastElement);
      const before = this.#rows.get(index)?.ohm ?? 0;
      const row = await this.#measureRow(index);
      if ('kind' in row) return row;
      const gap = Math.abs(row.ohm - before);
      if (!(gap <= REPEAT_OHM + REPEAT_FRACTION * before)) return notRepeated(row.name, before, row.ohm);
    }
    const before = this.#rows.get(RESIDUAL_ROW)?.ohm ?? 0;
    const row = await this.#measureRow(RESIDUAL_ROW);
    if ('kind' in row) return row;
    // The answer is the mean over all rounds; this is the last round alone.
    const last = row.ohm * (RESIDUAL_ROUNDS + 1) - before * RESIDUAL_ROUNDS;
    return Math.abs(last - before) <= RESIDUAL_REPEAT_OHM ? undefined : notRepeated(row.name, before, last);
  }

  async #measureRow(index: number): Promise<TableRow | Refused> {
    let tripText: string | undefined;
    const end = this.#link.subscribe((event) => {
      if (event.kind === 'tripped')
        tripText = faultSentence(event.fields.faultCode, event.fields.measured, event.fields.limit);
    });
    const result = await this.#link.request('calibrateElement', {
      channel: CHANNEL,
      index: this.#old.chain.boxIndex(index),
    });
    end();
    if (result.kind === 'answer' && !this.#options.signal.aborted) {
      const row = rowOf(index, result.fields);
      this.#rows.set(index, row);
      return row;
    }
    if (result.kind === 'answer') return stoppedRefusal;
    const message = tripText ?? result.message;
    return this.#unlessStopped(about(result, () => rowTroubleText(index, result.code, message)));
  }

  #unlessStopped<Result>(result: Result): Result | Refused {
    return this.#options.signal.aborted ? stoppedRefusal : result;
  }

  async #confirm(step: CalibrationStep, detail = ''): Promise<Refused | undefined> {
    const text = confirmationTexts[step](detail);
    const isDone = await this.#options.person.confirm(step, text);
    if (this.#options.signal.aborted) return stoppedRefusal;
    return isDone ? undefined : refuse('CONFIRM_FIRST', { asks: text });
  }
}
