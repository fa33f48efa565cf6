import { describe, expect, it } from 'vitest';
import { trim } from '../../../host/core/network';
import type { Offers, Trimmed, TrimOptions, TrimRefused } from '../../../host/core/network';
import { marketSenders } from '../../../host/core/network/report/market-families';
import type { GaugeResponse, SenderResponse } from '../../../host/core/response';
import { plain } from '../../../host/words/notation';
import { dialWords, feedWords, marketWords, wantedWords } from '../../../host/words/offers';
import { heaterWatt } from '../../support/gauge-laws';
import { fallingGauge, linearGauge, linearSender, thermalTemperature, thermistor } from './curves';

const answerOf = (
  gauge: GaugeResponse,
  sender: SenderResponse,
  options: TrimOptions = {},
): Trimmed | TrimRefused => trim(gauge, sender, options);

const offersOf = (...asked: Parameters<typeof answerOf>): Offers => {
  const { offers } = answerOf(...asked);
  if (offers === undefined) throw new Error('no offers');
  return offers;
};

/** A thermistor so flat that nothing passive helps. */
const flat = thermistor(140, 900);
const marked: GaugeResponse = {
  ...thermalTemperature,
  marks: [40, 60, 80, 100, 120].map((reading) => ({ label: String(reading), reading })),
};

describe('what would do where no resistor helps', () => {
  it('is told with a refusal by a law of circuits, and with "no resistor helps enough"; else not', () => {
    expect(answerOf(marked, flat).kind).toBe('refused');
    const nothing = answerOf(marked, flat, { acceptableError: 1000, limit: 2 });
    expect(nothing.kind === 'trimmed' && nothing.advice.kind).toBe('no-resistor-helps');
    expect(nothing.offers).toBeDefined();
    expect(answerOf(marked, thermistor(900, 3900), { limit: 20 }).offers).toBeUndefined();
  });

  // A twentieth of the scale: common practice, no source. The needle goes further than what is printed.
  it('allows a twentieth of the scale as it is printed, and of what was seen where nobody said what is', () => {
    const fewer = { ...thermalTemperature, marks: (marked.marks ?? []).slice(1, 4) };
    const allowed = (gauge: GaugeResponse): number => {
      const answer = answerOf(gauge, thermistor(900, 3900));
      return answer.kind === 'trimmed' ? answer.advice.limit : NaN;
    };
    expect(allowed(fewer)).toBeCloseTo((100 - 60) / 20, 9);
    expect(allowed(thermalTemperature)).toBeCloseTo((120 - 40) / 20, 9);
  });

  // The heat in a bimetal of 58 ohm at 10 V (P = I^2 R), scaled to 40 at 450 ohm and 120 at 30 ohm, turned round by hand.
  it('names the ohms a sender must have at each mark, for the needle to be within the limit', () => {
    const heat = (ohm: number): number => heaterWatt({ heaterOhm: 58, effectiveVolt: 10 }, ohm);
    const ohmFor = (reading: number): number => {
      const part = (reading - 40) / 80;
      const watt = heat(450) + part * (heat(30) - heat(450));
      return Math.sqrt((100 * 58) / watt) - 58;
    };
    const { wanted } = offersOf(marked, flat, { limit: 3 });
    expect(wanted.map(({ value }) => value)).toEqual([40, 60, 80, 100, 120]);
    for (const { value, ohm } of wanted.slice(1, 4)) {
      expect(ohm!.least / ohmFor(value + 3)).toBeCloseTo(1, 2);
      expect(ohm!.most / ohmFor(value - 3)).toBeCloseTo(1, 2);
    }
  });

  // The dial as it is, by the same heat.
  it('says where the numbers belong on a dial that is marked anew', () => {
    const { dial } = offersOf(marked, flat);
    for (const { value, stands } of dial) expect(stands).toBe(marked.reading(flat.ohm(value)));
    expect(dial.length).toBeGreaterThan(1);
    expect(dialWords(dial[0]!, plain)).toMatch(/^\d+ goes where [\d.]+ is now$/);
  });

  // Ranges in circulation: common practice, no source.
  it.each([
    ['fuel', linearGauge('fuel', 0, 90), linearSender('fuel', 240, 33), [0, 90]],
    ['pressure', fallingGauge('pressure', 240, 33), linearSender('pressure', 10, 180), [240, 33]],
  ] as const)('finds the %s range that the gauge was drawn for', (_, gauge, sender, [lowOhm, highOhm]) => {
    const [first] = offersOf(gauge, sender).market;
    expect([first!.low, first!.high]).toEqual([
      { at: 0, ohm: lowOhm },
      { at: 100, ohm: highOhm },
    ]);
    expect(first!.worstAlone).toBeLessThan(0.01);
    expect(marketWords(first!, '%', plain)).toContain(`${highOhm} ohm at 100 %`);
  });

  it('offers no sender of another quantity, and none for a temperature in an unknown unit', () => {
    expect(marketSenders({ ...linearGauge('fuel', 0, 90), quantity: 'other' })).toEqual([]);
    expect(marketSenders({ ...thermalTemperature, unit: 'notches' })).toEqual([]);
  });
});

// A maker's sheet for one air-core family, +-10 %: 450, 158.2, 64.3, 29.5 ohm at 100, 150, 200, 250 degF.
it.each([
  [150, 158.2],
  [200, 64.3],
])('a published range is met between its ends: %d degF, %d ohm', (fahrenheit, ohm) => {
  const sheet = marketSenders(thermalTemperature).find(({ family }) => family.low.ohm === 450);
  expect(sheet!.sender.ohm((fahrenheit - 32) / 1.8) / ohm).toBeCloseTo(1, 1);
});

describe('other volts for a gauge that follows heat', () => {
  /**
   * A dial drawn for `original` behind a heater of 58 ohm. Its needle stands alike where the heat is the same: at so many
   * times the volts with so many times the ohms of the whole loop. Source: Joule's law, P = (V / (Rg + r))^2 Rg.
   */
  const original = thermistor(900, 3900);
  const held = (ohm: number): number => Math.min(2000, Math.max(20, ohm));
  const readingAtFeed = (ohm: number, ratio: number): number => original.value(held((ohm + 58) / ratio - 58));
  const right: GaugeResponse = { ...marked, reading: (ohm) => readingAtFeed(ohm, 1), readingAtFeed };
  /** Right everywhere at so many times the feed, and wrong at that of today. */
  const drawnFor = (ratio: number): SenderResponse => ({
    ...original,
    ohm: (value) => ratio * (original.ohm(value) + 58) - 58,
  });

  it('are found where they make the sender right', () => {
    const asked = {
      from: 50,
      to: 100,
      supplyVolt: 10,
      limit: 0.2,
      acceptableError: 1000,
      topologies: ['none'],
    } as const;
    const { feed } = offersOf(right, drawnFor(0.88), asked);
    expect(feed!.ratio).toBeCloseTo(0.88, 6);
    expect(feed!.volt).toBeCloseTo(8.8, 6);
    expect(feed!.worstError).toBeLessThan(1e-6);
    expect(feedWords(feed!, 'degC', plain)).toContain('8.8 V instead of 10 V');
  });

  it('are never more than today where the sender sits in a tank', () => {
    const tank = { ...right, quantity: 'fuel' as const };
    const low: SenderResponse = { ...drawnFor(1.1), quantity: 'fuel' };
    const asked = { from: 50, to: 100, limit: 0.2, acceptableError: 1000, topologies: ['none'] } as const;
    const { feed } = offersOf(tank, low, asked);
    expect(feed === undefined || feed.ratio <= 1).toBe(true);
    expect(offersOf(right, { ...low, quantity: 'temperature' }, asked).feed!.ratio).toBeCloseTo(1.1, 6);
  });
});

it('a mark that no ohms reach is said to be so', () => {
  expect(wantedWords({ value: 60 }, 'degC', plain)).toBe('60 degC: no ohms put the needle there');
});
