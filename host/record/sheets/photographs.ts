import type { PhotographRow } from '../model/record-model';
import { heading, paragraph, stacked, type Block } from '../paper/block';
import { INK, moved, type Item, type Picture } from '../paper/items';
import type { Letters } from '../paper/letters';
import { photographsKept } from '../../words/record';

/** Above this a picture takes room and tells no more. */
const MOST_HEIGHT = 190;
/** Below this nothing can be read on it. */
const LEAST_HEIGHT = 84;
const GAP = 10;
const CAPTION_SIZE = 10.5;
const MOST_SHOWN = 4;

type Given = {
  readonly letters: Letters;
  readonly rows: readonly PhotographRow[];
  readonly pictures: readonly Picture[];
};
type Shown = { readonly row: PhotographRow; readonly picture: Picture };

const shapeOf = ({ picture }: Shown): number => picture.widthPixel / picture.heightPixel;

/** The height at which all of them fill the width side by side. */
const heightOf = (shown: readonly Shown[], width: number): number =>
  (width - GAP * (shown.length - 1)) / shown.reduce((sum, each) => sum + shapeOf(each), 0);

/** The first photographs side by side, as large as width and room allow; where there is none, their names alone. */
export function photographsBlock({ letters, rows, pictures }: Given, width: number, room: number): Block {
  const head = heading(letters, 'Photographs', width);
  const there = rows.flatMap((row): Shown[] => {
    const picture = pictures.find(({ photographId }) => photographId === row.photographId);
    return picture === undefined ? [] : [{ row, picture }];
  });
  for (let count = Math.min(MOST_SHOWN, there.length); count > 0; count -= 1) {
    const shown = there.slice(0, count);
    const said = namesOf(
      letters,
      rows.filter((row) => !shown.some((each) => each.row === row)),
      width,
    );
    const above = head.height + said.height + 6;
    const captions = (height: number): Block[] => captionsOf(letters, shown, height);
    const least = Math.min(heightOf(shown, width), MOST_HEIGHT);
    const height = Math.min(least, room - above - captionRoom(captions(least)));
    if (height < LEAST_HEIGHT) continue;
    const row: Block = rowOf(shown, captions(height), height);
    return stacked([head, row, said], 3);
  }
  return stacked([head, namesOf(letters, rows, width)], 3);
}

const captionRoom = (captions: readonly Block[]): number =>
  3 + Math.max(...captions.map(({ height }) => height));

const captionsOf = (letters: Letters, shown: readonly Shown[], height: number): Block[] =>
  shown.map((each) =>
    paragraph(letters, {
      text: each.row.title,
      width: height * shapeOf(each),
      size: CAPTION_SIZE,
      colour: INK.soft,
    }),
  );

function rowOf(shown: readonly Shown[], captions: readonly Block[], height: number): Block {
  const items: Item[] = [];
  let x = 0;
  for (const [index, each] of shown.entries()) {
    const width = height * shapeOf(each);
    items.push(
      { kind: 'picture', x, y: 0, width, height, picture: each.picture },
      moved(x, height + 3, captions[index]?.items ?? []),
    );
    x += width + GAP;
  }
  return { height: height + captionRoom(captions), items };
}

/** What is kept with the job and not shown here. */
const namesOf = (letters: Letters, rows: readonly PhotographRow[], width: number): Block =>
  rows.length === 0
    ? { height: 0, items: [] }
    : paragraph(letters, {
        text: photographsKept(rows.map(({ title }) => title)),
        width,
        size: CAPTION_SIZE,
        colour: INK.soft,
      });
