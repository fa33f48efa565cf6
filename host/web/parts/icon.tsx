import type { JSX } from 'preact';

/** Strokes of 24 by 24, drawn here: signs that the letters do not have. */
const ICONS = {
  good: 'M12 2.8a9.2 9.2 0 1 0 0 18.4a9.2 9.2 0 0 0 0-18.4M7.6 12.4l3 3l5.8-6.4',
  bad: 'M3.2 3.2h17.6v17.6h-17.6zM8 8l8 8M16 8l-8 8',
  doubt: 'M12 2.6L21.4 12L12 21.4L2.6 12zM9.7 10c.2-3.1 4.8-2.9 4.6-.2c-.1 1.7-2.3 1.9-2.3 3.6M12 16.6v.1',
  caution: 'M12 4L21.5 20h-19zM12 10v4.5M12 17.2v.1',
  go: 'M4 12h15M13 6l6 6l-6 6',
  stop: 'M8.2 3h7.6L21 8.2v7.6L15.8 21H8.2L3 15.8V8.2zM8.5 12h7',
  search: 'M17 10.5a6.5 6.5 0 1 1-13 0a6.5 6.5 0 0 1 13 0M15.5 15.5l5 5',
  left: 'M15 5L8 12l7 7',
  right: 'M9 5l7 7l-7 7',
  more: 'M12 5.5v.1M12 12v.1M12 18.5v.1',
  box: 'M3 7h18v11H3zM7 7V4.5M17 7V4.5M9.6 12.5a1.6 1.6 0 1 1-3.2 0a1.6 1.6 0 0 1 3.2 0M13 12.5h5',
  resistor: 'M2 12h3.5l1.5-5l3 10l3-10l3 10l1.5-5H22',
  cluster:
    'M2 5h20v14H2zM4.5 14a3 3 0 0 1 6 0M7.5 14l1.5-2M13.5 14a3 3 0 0 1 6 0M16.5 14l-1.2-2M6 17h3M15 17h3',
  bench: 'M3 4h18v12H3zM7 13a5 5 0 0 1 10 0M12 13l2.5-4M9 20h6M12 16v4',
} as const;

export type IconName = keyof typeof ICONS;

/** A sign beside words; it says nothing that they do not say. */
export const Icon = ({ of }: { readonly of: IconName }): JSX.Element => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
    <path d={ICONS[of]} />
  </svg>
);
