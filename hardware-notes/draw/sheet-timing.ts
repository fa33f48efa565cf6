import {
  breakStepMs,
  chainHold,
  deadMan,
  makeStepMs,
  outputRelay,
  relay,
  timerEarlyMs,
} from '../../firmware-ts/board/reference-design';
import { ink, Sheet, softInk, wireColour } from './sheet';

const left = 330;

type Trace = {
  readonly name: string;
  readonly y: number;
  readonly levels: readonly (readonly [ms: number, level: 0 | 1])[];
};

function trace(sheet: Sheet, part: Trace, scale: number, endMs: number): void {
  const height = 34;
  const at = (ms: number): number => left + ms * scale;
  const levelY = (level: 0 | 1): number => part.y - level * height;
  let data = `M${left} ${levelY(part.levels[0]?.[1] ?? 0)}`;
  for (const [ms, level] of part.levels) data += ` H${at(ms)} V${levelY(level)}`;
  sheet.path(`${data} H${at(endMs)}`, { colour: wireColour, width: 2.2 });
  sheet.text(left - 20, part.y - 8, part.name, { anchor: 'end', size: 14 });
}

type Band = { readonly y: number; readonly fromMs: number; readonly toMs: number; readonly label: string };

/** A time in which a contact may be doing anything. */
function band(sheet: Sheet, part: Band, scale: number): void {
  const x = left + part.fromMs * scale;
  const width = (part.toMs - part.fromMs) * scale;
  sheet.raw(
    `<rect x="${x}" y="${part.y - 34}" width="${width}" height="34" fill="#f3dcd0" stroke="none" opacity="0.85"/>`,
  );
  sheet.text(x + width / 2, part.y + 18, part.label, { size: 12, anchor: 'middle', colour: softInk });
}

function axis(sheet: Sheet, y: number, scale: number, marks: readonly number[]): void {
  const last = marks.at(-1) ?? 0;
  sheet.path(`M${left} ${y} H${left + last * scale}`, { width: 1.2 });
  for (const ms of marks) {
    sheet.path(`M${left + ms * scale} ${y} v7`, { width: 1.2 });
    sheet.text(left + ms * scale, y + 24, `${ms}`, { size: 12, anchor: 'middle' });
  }
  sheet.text(left + last * scale + 34, y + 24, 'ms', { size: 12 });
}

function marker(sheet: Sheet, ms: number, scale: number, reach: readonly [number, number]): void {
  sheet.path(`M${left + ms * scale} ${reach[0]} V${reach[1]}`, { width: 1, dash: '4 5', colour: ink });
}

function closingTraces(sheet: Sheet, scale: number, endMs: number): void {
  const closing = 290;
  const makeMs = 1 + breakStepMs;
  trace(
    sheet,
    {
      name: 'coil to be energised',
      y: closing + 60,
      levels: [
        [0, 0],
        [1 + breakStepMs, 1],
      ],
    },
    scale,
    endMs,
  );
  band(
    sheet,
    {
      y: closing + 130,
      fromMs: makeMs + relay.operateMinMs,
      toMs: makeMs + relay.operateMaxMs,
      label: `closes ${relay.operateMinMs} to ${relay.operateMaxMs} ms after`,
    },
    scale,
  );
  band(
    sheet,
    {
      y: closing + 130,
      fromMs: makeMs + relay.operateMaxMs,
      toMs: makeMs + relay.operateMaxMs + relay.bounceMaxMs,
      label: `bounce ≤ ${relay.bounceMaxMs}`,
    },
    scale,
  );
  sheet.text(left - 20, closing + 122, 'its contact', { anchor: 'end', size: 14 });
}

/** One move between two resistances: first insert what must be in, wait, then short what must be out. */
function moveFigure(sheet: Sheet): void {
  const scale = 62;
  const endMs = breakStepMs + makeStepMs + 2;
  sheet.text(50, 120, 'A move: insert first, short afterwards', { bold: true, size: 16 });
  const releasing = 200;
  trace(
    sheet,
    {
      name: 'coil to be released',
      y: 165 + 35,
      levels: [
        [0, 1],
        [1, 0],
      ],
    },
    scale,
    endMs,
  );
  band(
    sheet,
    {
      y: releasing + 70,
      fromMs: 1 + relay.releaseMinMs,
      toMs: 1 + relay.releaseMaxMs,
      label: `its contact opens ${relay.releaseMinMs} to ${relay.releaseMaxMs} ms after`,
    },
    scale,
  );
  sheet.text(left - 20, releasing + 62, 'its contact', { anchor: 'end', size: 14 });
  closingTraces(sheet, scale, endMs);
  const makeMs = 1 + breakStepMs;
  for (const ms of [1, makeMs, makeMs + makeStepMs]) marker(sheet, ms, scale, [150, 455]);
  axis(sheet, 455, scale, [0, 2, 4, 6, 8, 10, 12, 14, 16]);
  sheet.text(left + scale * (1 + breakStepMs / 2), 148, `break step ${breakStepMs} ms`, {
    anchor: 'middle',
    size: 13,
  });
  sheet.text(left + scale * (makeMs + makeStepMs / 2), 148, `make step ${makeStepMs} ms`, {
    anchor: 'middle',
    size: 13,
  });
}

/** The one-shot: every rising edge starts it again; without edges the rail falls and the output opens. */
function deadManFigure(sheet: Sheet): void {
  const scale = 1.9;
  const lastEdgeMs = 140;
  const endMs = 560;
  sheet.text(50, 560, 'The dead-man: the loop hangs just after 140 ms', { bold: true, size: 16 });
  const edges: (readonly [number, 0 | 1])[] = [[0, 0]];
  for (let ms = 20; ms <= lastEdgeMs; ms += 20) edges.push([ms, (ms / 20) % 2 === 1 ? 1 : 0]);
  trace(
    sheet,
    { name: `pulse (GP18), toggled every ≤ ${deadMan.pulsePeriodMaxMs} ms`, y: 640, levels: edges },
    scale,
    endMs,
  );
  const from = lastEdgeMs + deadMan.minMs;
  const to = lastEdgeMs + deadMan.maxMs;
  trace(
    sheet,
    {
      name: 'coil supply of K16',
      y: 720,
      levels: [
        [20, 1],
        [lastEdgeMs + deadMan.nominalMs, 0],
      ],
    },
    scale,
    endMs,
  );
  band(sheet, { y: 720, fromMs: from, toMs: to, label: 'falls somewhere here' }, scale);
  trace(
    sheet,
    {
      name: 'output contact',
      y: 800,
      levels: [
        [30, 1],
        [lastEdgeMs + deadMan.nominalMs + 5, 0],
      ],
    },
    scale,
    endMs,
  );
  band(
    sheet,
    {
      y: 800,
      fromMs: from,
      toMs: to + outputRelay.releaseMaxMs,
      label: `open at the latest ${deadMan.maxMs + outputRelay.releaseMaxMs} ms after the last rising edge`,
    },
    scale,
  );
  marker(sheet, lastEdgeMs, scale, [590, 850]);
  axis(sheet, 850, scale, [0, 100, 200, 300, 400, 500]);
}

/** The two timings that matter: a move of the ladder, and the dead-man running out. */
export function timingSheet(number: number, of: number): Sheet {
  const sheet = new Sheet({ title: 'Timing', number, of, width: 1640, height: 1020 });
  sheet.text(50, 70, 'Timing', { size: 20, bold: true });
  moveFigure(sheet);
  sheet.note(50, 510, [
    `Times with the coil clamp fitted; each step is ${timerEarlyMs} to ${2 * timerEarlyMs} ms longer than the relay needs, because timers may fire early. Shaded: the contact may be either way.`,
  ]);
  deadManFigure(sheet);
  sheet.note(50, 930, [
    `The coil supply of K1 to K15 falls ${chainHold.minMs} to ${chainHold.maxMs} ms after that of K16: too little to be seen at this scale.`,
  ]);
  return sheet;
}
