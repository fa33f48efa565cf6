import { gaugeResponse } from '../core/curve';
import type { GaugeCurve } from '../core/curve/types';
import type { Findings, LinePoint, TrimFinding } from '../job/findings';
import type { Mark } from '../job/schema/gauge';
import { scaleOf } from '../job/schema/scale';
import { turnOf } from '../job/state/shown-unit';
import type { JobState } from '../job/state/state';
import type { OhmsAtMark } from '../words/answer';
import { printed } from '../words/notation';
import { said } from '../words/refusal';
import { shownSpread } from '../words/shown';
import {
  converterWay,
  newFiguresWay,
  otherSenderWay,
  refusedLines,
  refusedWords,
  turnedFloatWay,
  type WayOut,
} from '../words/trim-answer';
import { isByRatio } from './curve-question';
import type { OhmPoint, OhmsQuestion } from './ohms-scene';
import { usualOnGauge } from './usual-lines';

type Forbidden = {
  readonly state: JobState;
  readonly findings: Findings;
  readonly trimmed: Extract<TrimFinding['trimmed'], { kind: 'refused' }>;
};

/** The sender of the search that was asked for. */
export const searchedSender = (state: JobState): string | undefined =>
  state.trimRequest?.senderId ?? state.trimSenderId;

/** What a sender gives, over the dial. */
export function senderPoints(
  state: JobState,
  findings: Findings,
  senderId: string | undefined,
): readonly OhmPoint[] {
  const unit = state.senders.find((each) => each.senderId === senderId)?.unit ?? state.gauge.unit;
  const turn = turnOf(unit, state.gauge.unit);
  const line = findings.senders.find((each) => each.senderId === senderId)?.line ?? [];
  return turn === undefined ? [] : line.map(({ x, y }) => ({ value: turn.value(x), ohm: y }));
}

const risesAlong = (points: readonly OhmPoint[]): boolean => {
  const ordered = [...points].sort((one, other) => one.value - other.value);
  return (ordered.at(-1)?.ohm ?? 0) > (ordered[0]?.ohm ?? 0);
};

const wantedPoints = (line: readonly LinePoint[]): readonly OhmPoint[] =>
  line.map(({ x, y }) => ({ ohm: x, value: y }));

/** Ohms of a line at a mark; undefined beyond its ends. */
export function ohmAtMark(points: readonly OhmPoint[], reading: number): number | undefined {
  const ordered = [...points].sort((one, other) => one.value - other.value);
  const after = ordered.findIndex(({ value }) => value >= reading);
  const [low, high] = [ordered[Math.max(0, after - 1)], ordered[after]];
  if (low === undefined || high === undefined || low.value > reading) return undefined;
  const share = high.value === low.value ? 0 : (reading - low.value) / (high.value - low.value);
  return low.ohm + share * (high.ohm - low.ohm);
}

/** At the outermost marks that both curves reach: what is wanted, what is given, and the law that forbids it. */
export function forbiddenWords({ state, findings, trimmed }: Forbidden, gives: readonly OhmPoint[]): string {
  const wanted = wantedPoints(findings.curve?.line ?? []);
  const at = (points: readonly OhmPoint[], mark: Mark): OhmsAtMark[] => {
    const ohm = ohmAtMark(points, mark.reading);
    return ohm === undefined ? [] : [{ ohm: printed.ohm(Number(ohm.toPrecision(3))), at: mark.label }];
  };
  const both = [...state.gauge.marks]
    .sort((one, other) => one.reading - other.reading)
    .flatMap((mark) => {
      const [wants, given] = [at(wanted, mark)[0], at(gives, mark)[0]];
      return wants === undefined || given === undefined ? [] : [{ wants, given }];
    });
  const [first, last] = [both[0], both.at(-1)];
  const words =
    first === undefined || last === undefined || first === last
      ? undefined
      : refusedWords({
          code: trimmed.code,
          wants: [first.wants, last.wants],
          gives: [first.given, last.given],
        });
  return words ?? said(trimmed, printed);
}

/** What the gauge wants and what the sender gives, each by its name. */
export function twoCurves(
  { state, findings }: Pick<Forbidden, 'state' | 'findings'>,
  gives: readonly OhmPoint[],
): OhmsQuestion {
  const wanted = wantedPoints(findings.curve?.line ?? []);
  const [gauge, sender] = refusedLines(risesAlong(wanted), risesAlong(gives));
  return {
    scale: state.gauge,
    isRatio: isByRatio(state.gauge),
    lines: [
      { id: 'wanted', name: gauge, look: 'curve', points: wanted },
      { id: 'given', name: sender, look: 'sender', points: gives },
    ],
    dots: [],
    naming: 'lines',
  };
}

/** Ways that do work, the best first. Only another sender is a way this job can go on by itself. */
export function waysOut(
  state: JobState,
  code: string,
  curve: GaugeCurve | undefined,
  gives: readonly OhmPoint[],
): readonly WayOut[] {
  const usual = curve === undefined ? undefined : usualOnGauge(curve, state.gauge)[0];
  const rises = curve === undefined ? false : gaugeResponse(curve).risesWithResistance;
  const turned = curve === undefined || code !== 'SENSE' ? undefined : turnedError(state, curve, gives);
  return [
    otherSenderWay(rises, usual),
    ...(state.gauge.quantity === 'fuel' && turned !== undefined
      ? [turnedFloatWay(shownSpread(turned, state.gauge))]
      : []),
    ...(curve === undefined || areFiguresApart(state, curve, gives) ? [newFiguresWay] : []),
    ...(state.gauge.quantity === 'fuel' && turned !== undefined ? [] : [converterWay]),
  ];
}

/** Nearer than this share of the scale two figures lie on each other. Common practice, no source. */
const FIGURE_SHARE = 0.06;

/** Whether the dial's figures, put where the needle stands with this sender, could still be told apart. */
function areFiguresApart({ gauge }: JobState, curve: GaugeCurve, gives: readonly OhmPoint[]): boolean {
  const { reading } = gaugeResponse(curve);
  const places = gauge.marks
    .flatMap((mark) => ohmAtMark(gives, mark.reading) ?? [])
    .map((ohm) => reading(ohm))
    .sort((one, other) => one - other);
  const nearest = Math.min(...places.slice(1).map((place, index) => place - (places[index] ?? 0)));
  return places.length > 1 && nearest >= FIGURE_SHARE * scaleOf(gauge.marks).span;
}

/** The worst error with the sender's ohms the other way round, between the ends of the scale. */
function turnedError(state: JobState, curve: GaugeCurve, gives: readonly OhmPoint[]): number | undefined {
  const { lowest, highest } = scaleOf(state.gauge.marks);
  const { reading } = gaugeResponse(curve);
  const errors = gives
    .map(({ value, ohm }) => ({ value: lowest + highest - value, ohm }))
    .filter(({ value }) => value >= lowest && value <= highest)
    .map(({ value, ohm }) => Math.abs(reading(ohm) - value));
  return errors.length === 0 ? undefined : Math.max(...errors);
}
