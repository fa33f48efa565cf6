import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { circuit } from '../../hardware-notes/circuit/circuit';
import { chip } from '../../hardware-notes/draw/chips';
import { drawAll } from '../../hardware-notes/draw/drawings';
import { casePlans, stripCase, stripPlace, wallSize, type WallName } from '../../hardware-notes/circuit/case';
import { outputs } from '../../hardware-notes/draw/outputs';
import { expandReferences, partRows } from '../../hardware-notes/draw/part-rows';
import { partGroups } from '../../hardware-notes/draw/parts';
import { Sheet } from '../../hardware-notes/draw/sheet';
import { allTables, fillTables } from '../../hardware-notes/draw/tables';
import { holeName } from '../../hardware-notes/strip-board/board';
import { pathBoard } from '../../hardware-notes/strip-board/path';

const folder = fileURLToPath(new URL('../../hardware-notes', import.meta.url));
const drawings = drawAll();
const documents = readdirSync(folder).filter((name) => name.endsWith('.md'));
const textOf = (file: string): string => readFileSync(join(folder, file), 'utf8');

const schematic = drawings.filter(
  ([file]) =>
    ![
      'blocks.svg',
      'channels.svg',
      'drilling.svg',
      'drilling-strip.svg',
      'hookup.svg',
      'layout.svg',
      'timing.svg',
    ].includes(file) && !file.startsWith('strip-'),
);

type Label = {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
};

/** Boxes round the texts of a drawing. Widths from the average advance of the font, a little on the small side. */
function labelsOf(svg: string): Label[] {
  const pattern = /<text x="([-\d.]+)" y="([-\d.]+)" font-size="([\d.]+)"([^>]*)>([^<]*)<\/text>/g;
  return [...svg.matchAll(pattern)].map((match) => {
    const [, x = '0', y = '0', size = '0', rest = '', text = ''] = match;
    const plain = text.replace(/&[a-z]+;/g, 'x');
    const width = plain.length * Number(size) * (rest.includes('monospace') ? 0.6 : 0.55);
    const anchor = /text-anchor="(\w+)"/.exec(rest)?.[1] ?? 'start';
    const left = Number(x) - (anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0);
    return {
      text,
      left,
      right: left + width,
      top: Number(y) - Number(size) * 0.72,
      bottom: Number(y) + Number(size) * 0.15,
    };
  });
}

const overlap = (one: Label, two: Label): boolean =>
  one.left < two.right && two.left < one.right && one.top < two.bottom && two.top < one.bottom;

function overlappingLabels(svg: string): string[] {
  const labels = labelsOf(svg).filter((label) => label.text.trim() !== '');
  return labels.flatMap((one, index) =>
    labels
      .slice(index + 1)
      .filter((two) => overlap(one, two))
      .map((two) => `${one.text} / ${two.text}`),
  );
}

describe('the drawings and tables in the notes', () => {
  it('are exactly what the data and the scripts give now', () => {
    const all = outputs(folder);
    expect(all.length).toBe(drawings.length + documents.length + 2);
    for (const { path, text } of all) {
      expect(textOf(path) === text, `${path} is out of date: run node hardware-notes/draw/generate.mjs`).toBe(
        true,
      );
    }
  });

  it('leave no stale drawing behind', () => {
    expect(readdirSync(join(folder, 'drawings')).sort()).toEqual(drawings.map(([file]) => file).sort());
  });

  it('come out the same twice', () => {
    expect(drawAll()).toEqual(drawings);
  });

  it('are each shown in a document, and every link in the documents leads somewhere', () => {
    const text = documents.map(textOf).join('\n');
    for (const [file] of drawings) expect(text).toContain(`drawings/${file}`);
    const links = [...text.matchAll(/\]\(([^)#]+)\)/g)].map((match) => match[1] ?? '');
    expect(links.length).toBeGreaterThan(20);
    expect(links.filter((link) => !existsSync(join(folder, link)))).toEqual([]);
  });

  it('use every table at least once', () => {
    const text = documents.map(textOf).join('\n');
    for (const name of allTables().keys()) expect(text).toContain(`<!-- table: ${name} -->`);
  });
});

describe('a table marker', () => {
  it('is refused when no table has its name', () => {
    expect(() => fillTables('<!-- table: unknown -->\n<!-- end -->', allTables())).toThrow(
      /no table is called unknown/,
    );
  });

  it('is filled again without growing', () => {
    const once = fillTables('<!-- table: dead-man -->\n<!-- end -->', allTables());
    expect(fillTables(once, allTables())).toBe(once);
    expect(once).toContain('272');
  });
});

describe.each(drawings)('%s', (_, svg) => {
  it('has no two texts on top of each other', () => {
    expect(overlappingLabels(svg)).toEqual([]);
  });

  it('keeps every text inside its frame', () => {
    const [, width = '0', height = '0'] = /viewBox="0 0 (\d+) (\d+)"/.exec(svg) ?? [];
    const outside = labelsOf(svg).filter(
      (label) => label.left < 24 || label.right > Number(width) - 24 || label.bottom > Number(height) - 20,
    );
    expect(outside.map((label) => label.text)).toEqual([]);
  });

  it('is well-formed as far as its tags go', () => {
    const opened = [...svg.matchAll(/<g[ >]/g)].length;
    expect([...svg.matchAll(/<\/g>/g)].length).toBe(opened);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe('the check for overlapping texts', () => {
  it('sees two labels that were put on one place', () => {
    const sheet = new Sheet({ title: 'x', number: 1, of: 1, width: 900, height: 400 });
    sheet.text(100, 100, 'one label');
    sheet.text(110, 103, 'another');
    expect(overlappingLabels(sheet.toSvg())).toEqual(['one label / another']);
  });
});

describe('a drawn chip', () => {
  it('refuses a pin it does not have', () => {
    const sheet = new Sheet({ title: 'x', number: 1, of: 1, width: 900, height: 400 });
    const find = chip(sheet, { at: [100, 100], width: 100, title: ['U1'], left: [{ name: 'A' }] });
    expect(find('A')).toEqual([76, 158]);
    expect(() => find('B')).toThrow(/U1 has no pin B/);
  });
});

describe.each(Object.entries(casePlans))('the holes of the case, %s', (name, plan) => {
  const room = (wall: WallName) => plan.holes.filter((hole) => hole.wall === wall);
  const at = (wanted: string) => {
    const found = plan.holes.find((hole) => hole.name === wanted);
    if (found === undefined) throw new Error(`no hole ${wanted}`);
    return found;
  };

  it('are one for each socket, post and lamp of the circuit, and four for the board', () => {
    const outside = circuit.filter(({ place, reference }) => place === 'case' && reference !== 'U12');
    const named = [...outside.map(({ reference }) => reference), 'M1', 'M2', 'M3', 'M4'];
    expect(plan.holes.map((hole) => hole.name).sort()).toEqual(named.sort());
  });

  it.each(['front', 'back', 'side', 'floor', 'lid'] as const)(
    'leave metal between them and to the edges: %s',
    (wall) => {
      const [width, height] = wallSize(plan.size)[wall];
      const all = room(wall);
      for (const hole of all) {
        const { x, y, diameter } = hole;
        const edge = Math.min(x, y, width - x, height - y) - diameter / 2;
        expect(edge, hole.name).toBeGreaterThan(6);
        for (const other of all.filter((each) => each.name !== hole.name))
          expect(
            Math.hypot(x - other.x, y - other.y) - (diameter + other.diameter) / 2,
            `${hole.name} and ${other.name}`,
          ).toBeGreaterThan(8);
      }
      for (const slot of plan.slots.filter((each) => each.wall === wall)) {
        expect(slot.x + slot.width).toBeLessThan(width - 6);
        expect(slot.y + slot.height).toBeLessThan(height - 6);
      }
    },
  );

  it('keep the PC’s socket and the supply’s away from each other and from the leads', () => {
    const [usb, supply] = [at('J6'), at('J5')];
    expect(usb.wall).toBe('back');
    expect(supply.wall).not.toBe('front');
    if (supply.wall === usb.wall) expect(Math.abs(usb.x - supply.x)).toBeGreaterThan(40);
    expect(room('front').map((hole) => hole.name)).not.toContain('J6');
  });

  it('put the PC’s socket where the boards have the PC’s side: at the upper edge of the floor plan', () => {
    // Seen from behind, the left of the back wall is the lower edge of the floor plan.
    const { width } = plan.size;
    expect(at('J6').x, name).toBeGreaterThan(width / 2);
    if (at('J5').wall === 'back') expect(at('J5').x, name).toBeLessThan(width / 2);
  });
});

describe('the case of the strip boards', () => {
  const pillar = (wanted: string) => {
    const found = stripCase.holes.find((hole) => hole.name === wanted);
    return [found?.x ?? NaN, found?.y ?? NaN] as const;
  };

  it('has its pillars under the fixing holes of the boards', () => {
    // B2 and AI59: 57 holes along and 33 across, 2.54 mm each.
    const [left, lower] = pillar('M1');
    const [right, upper] = pillar('M4');
    expect(right - left).toBeCloseTo(57 * 2.54, 0);
    expect(upper - lower).toBeCloseTo(33 * 2.54, 0);
    expect(stripPlace('AI2')).toEqual([left, expect.closeTo(lower, 0)]);
  });

  it('has J5 beside where its wires end, the PC’s corner more than 8 mm away', () => {
    const supply = stripCase.holes.find((hole) => hole.name === 'J5');
    // The side wall is seen from outside: its left is the back.
    const along = stripCase.size.length - (supply?.x ?? NaN);
    const [from, to] = [stripPlace('F7')[0], stripPlace('C30')[0]];
    expect(along).toBeGreaterThan(from);
    expect(along).toBeLessThan(to);
    expect(stripPlace('A54')[0] - along - (supply?.diameter ?? NaN)).toBeGreaterThan(8);
  });

  it('has vents over every hot part of the path board', () => {
    const lid = stripCase.slots.filter(({ wall }) => wall === 'lid');
    for (const reference of ['R6', 'R7', 'R8', 'R15']) {
      const part = pathBoard.parts.find((each) => each.reference === reference);
      const places = part?.terminals.map(({ hole }) => stripPlace(holeName(hole))) ?? [];
      expect(places).toHaveLength(2);
      const [along, across] = [places.map(([x]) => x), places.map(([, y]) => y)];
      const isOver = lid.some(
        (slot) =>
          slot.x < Math.max(...along) + 5 &&
          slot.x + slot.width > Math.min(...along) - 5 &&
          slot.y < Math.max(...across) + 5 &&
          slot.y + slot.height > Math.min(...across) - 5,
      );
      expect(isOver, reference).toBe(true);
    }
  });
});

describe('the parts list', () => {
  const listed = partGroups.flatMap(([, lines]) =>
    lines.flatMap((line) => expandReferences(line.references)),
  );

  it('names each reference once', () => {
    expect(listed.filter((name, index) => listed.indexOf(name) !== index)).toEqual([]);
  });

  it('holds every reference that the schematic shows', () => {
    const shown = schematic.flatMap(([, svg]) =>
      labelsOf(svg).flatMap((label) => {
        const match = /^([RCDQUKFJ]\d+)(?:[a-d]|…)?(?:\b|$)/.exec(label.text);
        return match === null ? [] : [match[1] ?? ''];
      }),
    );
    expect(shown.length).toBeGreaterThan(100);
    expect([...new Set(shown)].filter((name) => !listed.includes(name)).sort()).toEqual([]);
  });

  it('names what the netlist solders, and nothing else', () => {
    // Clips are part of their leads; the shunt is two parts of one line; NT1 is a joint of copper.
    const soldered = circuit
      .map(({ reference }) => reference.replace(/^(R16)[AB]$/, '$1'))
      .filter((name) => !/^(X\d|NT1)$/.test(name));
    expect([...new Set(soldered)].sort()).toEqual([...listed].sort());
  });

  it('says of every line which type fits, and whether its data sheet was read', () => {
    const rows = partGroups.flatMap(([, lines]) => partRows(lines));
    for (const [reference, , , type, sheet] of rows) {
      expect(String(type).length, String(reference)).toBeGreaterThan(2);
      expect(String(sheet)).toMatch(/^(data sheet read: .{5,}|from memory, compare with the table)$/);
    }
    expect(() => partRows([{ references: 'R999', count: 1, part: '', why: '' }])).toThrow(/no type for R999/);
  });

  it('counts as many parts as it names, where one reference is one part', () => {
    for (const [, lines] of partGroups)
      for (const { references, count } of lines) {
        const names = expandReferences(references);
        if (names.length > 0 && references !== 'R16') expect(count, references).toBe(names.length);
      }
  });
});
