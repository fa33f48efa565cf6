import { paragraph, space, stacked } from '../paper/block';
import { boxPath, INK, moved, PX_PER_MM, type Drawing } from '../paper/items';
import type { Letters } from '../paper/letters';
import { SIMULATED_RECORD } from '../../words/record';
import type { RecordModel } from '../model/record-model';

const WIDTH = 50 * PX_PER_MM;
const HEIGHT = 25 * PX_PER_MM;
const MARGIN = 1.6 * PX_PER_MM;
const BIG = 10.5;
const LEAST = 4.2;

/** What stays on the loom beside the part: who comes next must know of it. 50 mm x 25 mm. */
export function loomLabel(letters: Letters, model: RecordModel): Drawing {
  const width = WIDTH - 2 * MARGIN - 4;
  const room = HEIGHT - 2 * MARGIN - 4;
  const texts = [
    ...(model.simulated ? [SIMULATED_RECORD] : []),
    ...(model.parts.length === 0
      ? ['No part was added.']
      : model.parts.map((part) => part.replace(/ \(.*$/, ''))),
  ];
  const small = [
    `${model.vehicle}. Record ${model.jobId}, ${model.lastDay}.`,
    ...(model.parts.length === 0 ? [] : ['Do not remove: it keeps the gauge true.']),
  ];
  const at = (size: number) =>
    stacked([
      ...texts.map((text) => paragraph(letters, { text, width, size, font: 'strong' })),
      space(1),
      ...small.map((text) => paragraph(letters, { text, width, size: size * 0.8 })),
    ]);
  let size = BIG;
  while (size > LEAST && at(size).height > room) size -= 0.2;
  const block = at(size);
  return {
    title: `Label of record ${model.jobId}`,
    width: WIDTH,
    height: HEIGHT,
    items: [
      {
        kind: 'path',
        d: boxPath({ x: MARGIN / 2, y: MARGIN / 2, width: WIDTH - MARGIN, height: HEIGHT - MARGIN }),
        stroke: INK.ink,
        width: 1,
      },
      moved(MARGIN + 2, MARGIN + 2 + Math.max(0, (room - block.height) / 2), block.items),
    ],
  };
}
