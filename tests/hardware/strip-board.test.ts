import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { drawAll } from '../../hardware-notes/draw/drawings';
import { PITCH_MM, fixings, holeName } from '../../hardware-notes/strip-board/board';
import { stripBoards } from '../../hardware-notes/strip-board/boards';
import { isPad, roomOf } from '../../hardware-notes/strip-board/packages';
import { readNetlist } from './netlist-file';
import { copperOf, runsOf } from './strip-copper';
import { COLUMNS, ROWS, readStripDocument, spotOf, type Spot, type StripDocument } from './strip-document';
import { barrierTroubles, holeTroubles, wiringTroubles } from './strip-rules';

const notes = fileURLToPath(new URL('../../hardware-notes', import.meta.url));
const document = readStripDocument(readFileSync(`${notes}/strip-board.md`, 'utf8'));
const file = readNetlist(readFileSync(`${notes}/netlist/first-build.net`, 'utf8'));

const isAt = (one: Spot, two: Spot): boolean =>
  one.board === two.board && one.row === two.row && one.column === two.column;
const lead = (ref: string, pin: string): Spot => {
  const found = document.leads.find((each) => each.ref === ref && each.pin === pin);
  if (found === undefined) throw new Error(`the boards have no ${ref}.${pin}`);
  return found.spot;
};

describe('the strip boards, read as a builder reads them', () => {
  it('join what the netlist joins and nothing else', () => {
    expect(document.leads.length).toBeGreaterThan(550);
    expect(wiringTroubles(document, file)).toEqual([]);
  });

  it('have one lead, link or wire in a hole, and copper round each', () => {
    expect(holeTroubles(document)).toEqual([]);
  });

  it('keep 8 mm of bare board between vehicle, PC and box', () => {
    expect(barrierTroubles(document, file)).toEqual([]);
  });

  it('leave the corners free for the pillars', () => {
    const used = [
      ...document.leads.map(({ spot }) => spot),
      ...document.joins.flatMap(({ from, to }) => [from, to]),
    ];
    const isCorner = ({ row, column }: Spot): boolean =>
      Math.min(row, ROWS - 1 - row) < 3 && Math.min(column, COLUMNS - 1 - column) < 3;
    expect(used.filter(isCorner)).toEqual([]);
  });
});

describe('a fault on the strip boards is seen', () => {
  it.each([0, 7, 31, 64, 90, 140, 200])('cut number %i left out', (index) => {
    const left = document.cuts[index];
    if (left === undefined) throw new Error('no such cut');
    const faulty = { ...document, gone: document.gone.filter((each) => !isAt(each, left)) };
    expect(wiringTroubles(faulty, file).join('\n')).toMatch(/are one/);
  });

  it('every single cut left out', () => {
    const unseen = document.cuts.filter((cut) => {
      const faulty = { ...document, gone: document.gone.filter((each) => !isAt(each, cut)) };
      return wiringTroubles(faulty, file).length === 0;
    });
    expect(unseen).toEqual([]);
  });

  it('every single link or wire left out', () => {
    const unseen = document.joins.filter((join) => {
      const faulty = { ...document, joins: document.joins.filter((each) => each !== join) };
      return wiringTroubles(faulty, file).length === 0;
    });
    expect(unseen.map(({ what }) => what)).toEqual([]);
  });

  it('a cut too many, a lead one hole down, a part turned round, a strip of the barrier left on', () => {
    const between = { ...lead('U8', '1'), column: lead('U8', '1').column };
    const cut: StripDocument = { ...document, gone: [...document.gone, between] };
    expect(wiringTroubles(cut, file).join('\n')).toMatch(/is torn/);
    expect(holeTroubles(cut).join('\n')).toMatch(/U8\.1 where the copper is gone/);
    const lower: StripDocument = {
      ...document,
      leads: document.leads.map((each) =>
        each.ref === 'R125' && each.pin === '1'
          ? { ...each, spot: { ...each.spot, row: each.spot.row + 1 } }
          : each,
      ),
    };
    expect(wiringTroubles(lower, file)).not.toEqual([]);
    const turned: StripDocument = {
      ...document,
      leads: document.leads.map((each) =>
        each.ref === 'D5' ? { ...each, pin: each.pin === '1' ? '2' : '1' } : each,
      ),
    };
    expect(wiringTroubles(turned, file)).not.toEqual([]);
    const row = spotOf('power', 'I1').row;
    const strip = {
      ...document,
      gone: document.gone.filter((each) => each.board !== 'power' || each.row !== row),
    };
    expect(barrierTroubles(strip, file).join('\n')).toMatch(/free copper between vehicle and box/);
  });

  it('two leads in one hole', () => {
    const both: StripDocument = {
      ...document,
      leads: document.leads.map((each) =>
        each.ref === 'R102' ? { ...each, spot: lead('R103', each.pin) } : each,
      ),
    };
    expect(holeTroubles(both).join('\n')).toMatch(/in one hole/);
  });
});

describe('the fixing holes', () => {
  // 3 mm from the middle: under the head of an M3 screw.
  const HEAD_MM = 3;

  it.each(stripBoards)('$name: nothing soldered and no body under a screw', (board) => {
    expect(fixings.map(holeName)).toEqual(['B2', 'B59', 'AI2', 'AI59']);
    const soldered = [
      ...board.parts.flatMap(({ terminals }) => terminals.map(({ hole }) => hole)),
      ...board.links.flatMap(({ from, to }) => [from, to]),
      ...board.wires.map(({ hole }) => hole),
    ];
    const rooms = board.parts
      .filter(({ reference }) => !isPad(reference))
      .map(({ reference, terminals }) =>
        roomOf(
          reference,
          terminals.map(({ hole }) => hole),
        ),
      );
    for (const [row, column] of fixings) {
      const near = (top: number, left: number, bottom = top, right = left): number =>
        PITCH_MM *
        Math.hypot(Math.max(top - row, row - bottom, 0), Math.max(left - column, column - right, 0));
      for (const hole of soldered) expect(near(...hole), holeName(hole)).toBeGreaterThan(HEAD_MM + 1);
      for (const room of rooms)
        expect(near(room.top, room.left, room.bottom, room.right)).toBeGreaterThan(HEAD_MM);
    }
  });

  it.each(drawAll().filter(([file]) => file.startsWith('strip-')))('are drawn on %s', (_, svg) => {
    expect(svg.match(/data-fixing="[A-Z0-9]+"/g)).toHaveLength(fixings.length);
  });
});

describe('the bodies of the parts', () => {
  it.each(stripBoards)(
    '$name: none overlaps another, none reaches 2.2 mm beyond the outer holes',
    (board) => {
      const rooms = board.parts
        .filter(({ reference }) => !isPad(reference))
        .map(({ reference, terminals }) => ({
          reference,
          room: roomOf(
            reference,
            terminals.map(({ hole }) => hole),
          ),
        }));
      const overlaps = rooms.flatMap((one, index) =>
        rooms.slice(index + 1).flatMap((two) => {
          const down = Math.min(one.room.bottom, two.room.bottom) - Math.max(one.room.top, two.room.top);
          const across = Math.min(one.room.right, two.room.right) - Math.max(one.room.left, two.room.left);
          return down > 0.02 && across > 0.02 ? [`${one.reference} and ${two.reference}`] : [];
        }),
      );
      expect(overlaps).toEqual([]);
      const over = rooms.filter(
        ({ room }) => Math.min(room.top, room.left, ROWS - 1 - room.bottom, COLUMNS - 1 - room.right) < -0.87,
      );
      expect(over.map(({ reference }) => reference)).toEqual([]);
    },
  );

  it('are not soldered through: no link or wire ends under a part', () => {
    for (const board of stripBoards) {
      const ends = [
        ...board.links.flatMap(({ from, to }) => [from, to]),
        ...board.wires.map(({ hole }) => hole),
      ];
      for (const { reference, terminals } of board.parts) {
        if (isPad(reference) || reference === 'U10') continue;
        const room = roomOf(
          reference,
          terminals.map(({ hole }) => hole),
        );
        const under = ends.filter(
          ([row, column]) => row > room.top && row < room.bottom && column > room.left && column < room.right,
        );
        expect(under, `${board.name} ${reference}`).toEqual([]);
      }
    }
  });

  it('that get hot keep 3 mm from everything else', () => {
    const path = stripBoards.find(({ name }) => name === 'path');
    const rooms = (path?.parts ?? [])
      .filter(({ reference }) => !isPad(reference))
      .map(({ reference, terminals }) => ({
        reference,
        room: roomOf(
          reference,
          terminals.map(({ hole }) => hole),
        ),
      }));
    for (const hot of rooms.filter(({ reference }) => /^R(6|7|8|15)$/.test(reference)))
      for (const other of rooms.filter((each) => each !== hot)) {
        const down = Math.max(hot.room.top - other.room.bottom, other.room.top - hot.room.bottom);
        const across = Math.max(hot.room.left - other.room.right, other.room.left - hot.room.right);
        expect(2.54 * Math.max(down, across), `${hot.reference}, ${other.reference}`).toBeGreaterThan(3);
      }
  });
});

describe('currents on the strips', () => {
  it('a strip bears what the path and the coils may carry', () => {
    // IPC-2221, outer layer: I = 0.048 T^0.44 A^0.725, T in K, A in square mil. 35 µm, 2 mm less a hole of 1 mm.
    const squareMil = (0.035 * (2 - 1)) / 0.0254 ** 2;
    const riseKelvin = (amp: number): number => (amp / (0.048 * squareMil ** 0.725)) ** (1 / 0.44);
    // What the hardware trip lets through for good, its at-once limit, all coils of the first build.
    expect(riseKelvin(0.45)).toBeLessThan(1);
    expect(riseKelvin(1.1)).toBeLessThan(3);
    expect(riseKelvin(9 * 0.0281 + 0.024)).toBeLessThan(1);
  });

  it('the gauge current and the returns run in heavy wire', () => {
    const isPath = /\((FUSED|BEHIND-K16|CHAIN-\d+|SHUNT\+|box common)\)/;
    for (const { what, isHeavy } of document.joins) expect(isHeavy, what).toBe(isPath.test(what));
  });

  it('the sense wires leave at the body of R16, beyond where the current comes in', () => {
    const runs = runsOf(document);
    const along = (ref: string, pin: string): number[] => {
      const spot = lead(ref, pin);
      const run = runs.find(
        ({ board, row, from, to }) =>
          board === spot.board && row === spot.row && from <= spot.column && spot.column <= to,
      );
      const used = [
        ...document.leads.map((each) => each.spot),
        ...document.joins.flatMap(({ from, to }) => [from, to]),
      ];
      return used
        .filter((each) => each.board === spot.board && each.row === spot.row)
        .map(({ column }) => column)
        .filter((column) => run !== undefined && run.from <= column && column <= run.to)
        .sort((one, two) => one - two);
    };
    const wire = document.joins.find(({ what }) => what.startsWith('W1 '));
    const sense = [wire?.from, wire?.to].find((end) => end?.board === 'path');
    const ends = (pin: string): number[] =>
      [lead('R16A', pin).column, lead('R16B', pin).column].sort((a, b) => a - b);
    expect(along('R16A', '1').slice(0, 3)).toEqual([sense?.column, ...ends('1')]);
    expect(along('R16A', '2').slice(0, 3)).toEqual([lead('NT1', '2').column, ...ends('2')]);
  });

  it('the returns of coils and controller and the analogue ground meet at the star and nowhere else', () => {
    // With the three return wires taken off, the star keeps to itself and the others fall apart.
    const { nets } = copperOf(document, (what) => /^W2[678] /.test(what));
    const piece = (of: string): readonly string[] => nets.find((leads) => leads.includes(of)) ?? [];
    const [star, coils, meter, power] = ['R16A.2', 'Q1.1', 'U1.11', 'U10.3'].map(piece);
    expect(new Set([star, coils, meter, power]).size).toBe(4);
    expect([...(star ?? [])].sort()).toEqual(['D1.2', 'J2.1', 'J2.2', 'J8.1', 'NT1.2', 'R16A.2', 'R16B.2']);
    expect(coils?.every((each) => /^(Q|R1[23]\d)/.test(each))).toBe(true);
    expect(meter?.some((each) => /^Q([1-9]|1[56])\./.test(each))).toBe(false);
  });

  it('the capacitors at the supply pins stand within 25 mm of them', () => {
    const pairs = [
      ['C101', 'U1', '4'],
      ['C102', 'U2', '4'],
      ['C103', 'U3', '4'],
      ['C104', 'U4', '12'],
      ['C105', 'U4', '13'],
      ['C106', 'U5', '12'],
      ['C107', 'U5', '13'],
      ['C108', 'U6', '8'],
      ['C109', 'U7', '14'],
      ['C110', 'U8', '16'],
      ['C111', 'U9', '14'],
      ['C112', 'U11', '1'],
      ['C113', 'U11', '8'],
      ['C114', 'U14', '2'],
      ['C115', 'U16', '2'],
    ] as const;
    for (const [capacitor, chip, pin] of pairs) {
      const [one, two] = [lead(capacitor, '1'), lead(chip, pin)];
      expect(one.board).toBe(two.board);
      expect(
        2.54 * Math.hypot(one.row - two.row, one.column - two.column),
        `${capacitor} ${chip}`,
      ).toBeLessThan(25);
    }
  });
});

describe('the drawings of the strip boards', () => {
  const drawings = drawAll();
  const of = (name: string): string => drawings.find(([each]) => each === name)?.[1] ?? '';
  const found = (svg: string, what: string): string[] =>
    [...svg.matchAll(new RegExp(`data-${what}="([^"]+)"`, 'g'))].map(([, text = '']) => text).sort();

  it.each(stripBoards)(
    '$name: both sides show every cut, every lead and every wire; the parts side every link',
    (board) => {
      const [parts, copper] = [of(`strip-${board.name}-parts.svg`), of(`strip-${board.name}-copper.svg`)];
      const own = document.leads.filter(({ spot }) => spot.board === board.name).length;
      const joins = document.joins.filter(
        ({ what, from }) => what.startsWith('link') && from.board === board.name,
      );
      for (const svg of [parts, copper]) {
        expect(found(svg, 'cut')).toHaveLength(
          document.cuts.filter((cut) => cut.board === board.name).length,
        );
        expect(found(svg, 'lead')).toHaveLength(own);
      }
      expect(found(parts, 'link')).toHaveLength(joins.length);
      expect(found(parts, 'cut')).toEqual(found(copper, 'cut'));
      expect(found(parts, 'lead')).toEqual(found(copper, 'lead'));
      // A hole lies at the same height on both and as far from the one edge as from the other.
      const placeOf = (svg: string, lead_: string): readonly [number, number] => {
        const match = new RegExp(`data-lead="${lead_}" cx="([\\d.]+)" cy="([\\d.]+)"`).exec(svg);
        return [Number(match?.[1]), Number(match?.[2])];
      };
      const width = Number(/width="(\d+)"/.exec(parts)?.[1]);
      for (const each of found(parts, 'lead')) {
        const [one, two] = [placeOf(parts, each), placeOf(copper, each)];
        expect(one[1]).toBe(two[1]);
        expect(one[0] + two[0]).toBe(width - 25);
      }
    },
  );
});
