import type { Found } from '../model/record-model';
import { circlePath, INK, type Item } from '../paper/items';

type Sign = Found['sign'] | 'danger';

/** Shape before colour: circle with tick, square with cross, diamond with question mark, triangle with stroke; a ring: open. */
export function signItems(sign: Sign, x: number, y: number, r: number): Item[] {
  const drawn = (d: string, stroke: string): Item => ({ kind: 'path', d, stroke, width: r * 0.13 });
  switch (sign) {
    case 'within':
      return [
        drawn(circlePath(x, y, r), INK.good),
        drawn(`M${x - r * 0.45} ${y + r * 0.05}l${r * 0.32} ${r * 0.32}l${r * 0.6} ${-r * 0.68}`, INK.good),
      ];
    case 'outside':
    case 'refused': {
      const half = r * 0.9;
      return [
        drawn(`M${x - half} ${y - half}h${2 * half}v${2 * half}h${-2 * half}Z`, INK.bad),
        drawn(
          `M${x - r * 0.4} ${y - r * 0.4}l${r * 0.8} ${r * 0.8}m0 ${-r * 0.8}l${-r * 0.8} ${r * 0.8}`,
          INK.bad,
        ),
      ];
    }
    case 'cannot-tell':
      return [
        drawn(
          `M${x} ${y - r * 1.1}l${r * 1.1} ${r * 1.1}l${-r * 1.1} ${r * 1.1}l${-r * 1.1} ${-r * 1.1}Z`,
          INK.doubt,
        ),
        drawn(
          `M${x - r * 0.26} ${y - r * 0.24}a${r * 0.27} ${r * 0.27} 0 1 1 ${r * 0.4} ${r * 0.25}q${-r * 0.14} ${r * 0.1} ${-r * 0.14} ${r * 0.28}`,
          INK.doubt,
        ),
        { kind: 'path', d: circlePath(x, y + r * 0.55, r * 0.09), fill: INK.doubt },
      ];
    case 'open':
      return [drawn(circlePath(x, y, r), INK.soft), drawn(`M${x - r * 0.4} ${y}h${r * 0.8}`, INK.soft)];
    case 'danger':
      return [
        drawn(`M${x} ${y - r}L${x + r * 1.1} ${y + r * 0.85}h${-2.2 * r}Z`, INK.doubt),
        drawn(`M${x} ${y - r * 0.35}v${r * 0.55}`, INK.doubt),
        { kind: 'path', d: circlePath(x, y + r * 0.5, r * 0.1), fill: INK.doubt },
      ];
  }
}
