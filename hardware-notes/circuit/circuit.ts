import { COMMON, netlist, type Part } from '../../firmware-ts/board/netlist';
import { elements, path } from '../../firmware-ts/board/reference-design';
import { partOhmText } from '../draw/format';
import { electrolytic, inLead, twoEnds, type Component } from './component';
import { driveComponents } from './drive';
import { meterComponents } from './meter';
import { powerComponents } from './power';

const small = 'Resistor_THT:R_Axial_DIN0207_L6.3mm_D2.5mm_P10.16mm_Horizontal';
const large = 'Resistor_THT:R_Axial_DIN0617_L17.0mm_D6.0mm_P20.32mm_Horizontal';
/** Wirewound parts by their rating: the bodies are those of packages.ts. */
const power: readonly (readonly [watt: number, footprint: string])[] = [
  [10, 'Resistor_THT:R_Axial_Power_L48.0mm_W12.5mm_P55.88mm'],
  [7, 'Resistor_THT:R_Axial_Power_L38.0mm_W9.0mm_P45.72mm'],
  [5, 'Resistor_THT:R_Axial_Power_L25.0mm_W9.0mm_P30.48mm'],
  [2, large],
];
const film = 'Capacitor_THT:C_Rect_L7.2mm_W4.5mm_P5.00mm_FKS2_FKP2_MKS2_MKP2';
const disc = 'Capacitor_THT:C_Disc_D5.0mm_W2.5mm_P5.00mm';
const tall = 'Capacitor_THT:CP_Radial_D16.0mm_P7.50mm';

/** What lies in the clips' sleeves and in the leads. */
const inLeads = ['F1', 'F4', 'R65', 'R66', 'R67', 'R68'];

const capacitanceText = (farad: number): string =>
  farad < 1e-7 ? `${Math.round(farad * 1e9)} nF` : `${Math.round(farad * 1e6)} µF`;

function footprintOf(name: string): string {
  if (name.startsWith('C')) return /^C2[0-3]$/.test(name) ? disc : film;
  const element = elements.find((each) => each.name === name);
  const watt =
    (element?.ratedMilliwatt ?? (name === path.limiter.name ? path.limiter.ratedMilliwatt : 0)) / 1000;
  return power.find(([rated]) => watt >= rated)?.[1] ?? small;
}

/** A part of the solved network, as it is soldered in. The shunt is two resistors side by side. */
function soldered({ name, from, to, value }: Part): Component[] {
  if (name === path.shunt.name)
    return ['A', 'B'].map((half) => twoEnds(`${name}${half}`, partOhmText(2 * value), [from, to], small));
  if (name === path.fuse.name) return [inLead(twoEnds(name, '0.5 A fast', [from, to]))];
  if (name === path.groundFuse.name) return [inLead(twoEnds(name, '2 A fast, ceramic', [from, to]))];
  const text = name.startsWith('C') ? capacitanceText(value) : partOhmText(value);
  if (inLeads.includes(name)) return [inLead(twoEnds(name, text, [from, to]))];
  if (name === 'C52') return [electrolytic(name, text, [from, to], tall)];
  return [twoEnds(name, text, [from, to], footprintOf(name))];
}

/** 100 nF at every supply pin: what it lies between, in order from C101. */
const bypassed: readonly (readonly [chip: string, from: string, to: string])[] = [
  ['U1', '5 VA', COMMON],
  ['U2', '5 VA', COMMON],
  ['U3', '5 VA', COMMON],
  ['U4 AVDD', '5 VA', COMMON],
  ['U4 DVDD', '3V3', COMMON],
  ['U5 AVDD', '5 VA', COMMON],
  ['U5 DVDD', '3V3', COMMON],
  ['U6', '5 VA', COMMON],
  ['U7', '3V3', COMMON],
  ['U8', '3V3', COMMON],
  ['U9', '3V3', COMMON],
  ['U11 VDD1', '3V3', COMMON],
  ['U11 VDD2', 'PC-3V3', 'PC-0V'],
  ['U14', '5 VL', COMMON],
  ['U16', '5 VA', COMMON],
];

/** Reference of the first bypass capacitor less one. */
const BYPASS_FIRST = 100;

export const bypassCapacitors: readonly Component[] = bypassed.map(([, from, to], index) =>
  twoEnds(`C${BYPASS_FIRST + 1 + index}`, '100 nF', [from, to], disc),
);

/** Which bypass capacitor belongs to which supply pin. */
export const bypassPlaces: readonly (readonly [capacitor: string, chip: string])[] = bypassed.map(
  ([chip], index) => [`C${BYPASS_FIRST + 1 + index}`, chip],
);

/** Values of what is not in the solved network and sits in its own file only by its number. */
const pathComponents: readonly Component[] = [
  twoEnds('D1', '1.5KE39CA', ['FUSED', COMMON], 'Diode_THT:D_DO-201AE_P15.24mm_Horizontal'),
  // Sense wire of the shunt: SHUNT− meets box common at the body of R16 and nowhere else.
  twoEnds('NT1', 'joint at the foot of R16', ['SHUNT-', COMMON], 'NetTie:NetTie-2_THT_Pad1.0mm'),
];

/** A resistor or capacitor that its own sheet places without a footprint gets the usual one. */
const withFootprint = (component: Component): Component => {
  const { reference, footprint, place } = component;
  if (footprint !== undefined || place !== 'board') return component;
  if (/^R\d/.test(reference)) return { ...component, footprint: small };
  if (/^C\d/.test(reference)) return { ...component, footprint: disc };
  return component;
};

/** Every part of the one-channel box with its terminals and nets; nothing is soldered that is not here. */
export const circuit: readonly Component[] = [
  ...netlist.flatMap(soldered),
  ...pathComponents,
  ...meterComponents,
  ...driveComponents,
  ...powerComponents,
  ...bypassCapacitors,
].map(withFootprint);

export type Node = { readonly reference: string; readonly number: string; readonly name: string };

/** Terminals on each net, by its name. */
export function netsOf(components: readonly Component[]): ReadonlyMap<string, readonly Node[]> {
  const nets = new Map<string, Node[]>();
  for (const { reference, terminals, nets: byNumber } of components)
    for (const { number, name } of terminals) {
      const net = byNumber[number];
      if (net === undefined) continue;
      nets.set(net, [...(nets.get(net) ?? []), { reference, number, name }]);
    }
  return nets;
}

/** A part of the circuit by its reference. Throws for one that is not in it. */
export function componentNamed(reference: string): Component {
  const found = circuit.find((component) => component.reference === reference);
  if (found === undefined) throw new Error(`the circuit has no ${reference}`);
  return found;
}

/** Number of a terminal by its name; of several alike, all of them: '4, 9'. Throws for a name the part lacks. */
export function numberOf(reference: string, name: string): string {
  const numbers = componentNamed(reference)
    .terminals.filter((terminal) => terminal.name === name)
    .map(({ number }) => number);
  if (numbers.length === 0) throw new Error(`${reference} has no terminal ${name}`);
  return numbers.join(', ');
}
