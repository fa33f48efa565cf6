import type { JSX } from 'preact';
import { DialPlate } from '../dial/dial-plate';
import { fractionFromReading, type DialFace } from '../dial/dial-geometry';
import { Needle } from '../dial/needle';

const READINGS = [40, 60, 80, 100, 120];
const FACE: DialFace = {
  unit: 'degC',
  arcDegrees: 110,
  zones: [],
  marks: READINGS.map((reading, index) => ({
    label: String(reading),
    reading,
    angleFraction: index / (READINGS.length - 1),
  })),
};
const READ = 100;

/** Ohms over the dial, as such gauges want them; the last dot is the one that is just being read. */
const DOTS = [
  [474, 84],
  [494, 109],
  [516, 133],
  [538, 151],
] as const;
const CURVE = 'M470 78C490 106 520 142 556 166';

/** What it is, in one picture: the box makes the ohms, a person says where the needle sits, the curve grows. */
export const HeroPicture = (): JSX.Element => (
  <figure class="hero-picture">
    <svg
      viewBox="0 40 610 186"
      role="img"
      aria-label="The box makes 88 ohm, the needle shows 100, the curve gains a point"
    >
      <g class="hero-line">
        <rect x="4" y="84" width="136" height="96" rx="5" />
        <path d="M140 132H196" />
        <path d="M462 56V200H606M480 200v5M503 200v5M526 200v5M549 200v5M572 200v5M595 200v5" />
      </g>
      <text class="hero-ohm" x="72" y="144">
        88 {'\u03a9'}
      </text>
      <rect class="hero-dial" x="196" y="54" width="236" height="158" rx="8" />
      <g transform="translate(314 196) scale(1.02)">
        <DialPlate face={FACE} />
        <Needle
          kind="settled"
          fraction={fractionFromReading(FACE.marks, READ) ?? 0}
          arcDegrees={FACE.arcDegrees}
        />
      </g>
      <path class="hero-curve" d={CURVE} />
      {DOTS.map(([x, y]) => (
        <circle key={x} class="hero-dot" cx={x} cy={y} r="4.2" />
      ))}
      <circle class="hero-now" cx="556" cy="166" r="6" />
    </svg>
    <figcaption>The box makes the ohms, you say where the needle sits, the curve grows.</figcaption>
  </figure>
);
