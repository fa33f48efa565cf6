import { describe, expect, it } from 'vitest';
import { cardsFromText, documentText, readDocument } from '../../host/catalogue';

const making = {
  ...({ file: 'shop.csv', program: 'test', licence: 'private', simulated: false } as const),
  description: 'shop',
};

describe('the cards in a text', () => {
  it('are documents that are read again as they are, bad rows left out with what they say', () => {
    const text = 'resistance_ohm;reading_percent\n10;0\n30;22,5\n6O;41\n-90;55\n140;75\n';
    const { cards, leftOut } = cardsFromText(text, making);
    const [card] = cards;
    expect(card?.points).toHaveLength(3);
    expect(card?.points[1]).toMatchObject({ resistance_ohm: 30, reading: 22.5, method: 'typed' });
    expect(leftOut.map(({ row, text: says }) => [row, says])).toEqual([
      [4, '6O;41'],
      [5, '-90;55'],
    ]);
    expect(readDocument(documentText(card!))).toMatchObject({ kind: 'card', card });
  });

  it('of several curves keep the good where one is none, and name it', () => {
    const text =
      'Lark\nresistance_ohm,reading_percent\n10,0\n90,100\n\nTern\nresistance_ohm,reading_percent\nten,0\n';
    const { cards, leftOut } = cardsFromText(text, { ...making, description: undefined });
    expect(cards.map(({ description }) => description)).toEqual(['Lark']);
    expect(leftOut).toMatchObject([{ row: 8, text: 'ten,0' }]);
    expect(leftOut[0]?.message).toMatch(/^Tern: /);
  });

  it.each([
    [
      'more points than a card holds',
      [...Array(2001).keys()].map((i) => `${i + 1},${i}`).join('\n'),
      /2001 points/,
    ],
    ['no bounded ohms', '20000000,5\n30000000,6', /points\[0\]\.resistance_ohm/],
    ['nothing below the heading', '', /nothing below it/],
  ])('are none where there is %s, and it is said why', (_, rows, why) => {
    const { cards, leftOut } = cardsFromText(`resistance_ohm,reading_C\n${rows}`, making);
    expect(cards).toEqual([]);
    expect(leftOut[0]?.message).toMatch(why);
  });
});
