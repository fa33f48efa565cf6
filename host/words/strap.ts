/** What can hurt while a tank is strapped. Source: common practice (petrol vapour ignites; static at the nozzle). */
export const STRAP_CAUTIONS: readonly string[] = [
  'Petrol vapour ignites: ignition off while filling, away from the pump before it goes on again, nothing that sparks near.',
  'Down by driving only: nothing is drained and nobody runs a tank dry for a point.',
  'Level ground, the nozzle stopped by itself once, a minute for the fuel to come to rest, then the needle.',
  'Nothing is parted at the tank; the passenger writes, the driver drives.',
];

/** Of a new face over an old one. Source: common practice (radium in luminous paint of old instruments). */
export const OVERLAY_CAUTIONS: readonly string[] = [
  'Old luminous paint may be radium: then the dial is not opened, and never scraped, sanded or brushed.',
  'It is laid over, not painted on: what was there stays, and everything can be undone.',
];

export const OVERLAY_PRINT =
  'Print at 100 %, without "fit to page". Measure both bars: 100 mm each. Type both back; over 0.5 % it is scaled, over 2 % do not cut.';
