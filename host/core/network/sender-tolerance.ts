import type { GaugeResponse, SenderResponse } from '../response';
import { isRefused } from '../refusal';
import { seenOhm } from './closed-form/network-law';
import type { Network } from './closed-form/topology';
import { gaugeTable } from './search/gauge-table';
import { workingOhm } from './search/heat';
import type { TrimOptions } from './search/trim-options';
import { trimQuestionOf } from './search/trim-question';

/** Error at one true value with senders at both ends of their tolerance, dial units. */
export type ToleranceError = { readonly value: number; readonly low: number; readonly high: number };

const PARTS = 40;

/**
 * The error of each network over the band with a sender at the low and at the high end of its stated tolerance, as hot as
 * that sender is in its circuit; one list a network, and none where the question is refused.
 * Source: R (1 +- tolerance) at its working point, through the network and the gauge's curve; derived here.
 */
export const toleranceErrors = (
  gauge: GaugeResponse,
  given: SenderResponse,
  options: TrimOptions,
  asked: { readonly networks: readonly Network[]; readonly percent: number },
): readonly (readonly ToleranceError[])[] => {
  const table = gaugeTable(gauge);
  const question = isRefused(table) ? table : trimQuestionOf(table, given, options);
  if (isRefused(question)) return [];
  const { band, sender, problem } = question;
  return asked.networks.map((network) => {
    const errorAt = (value: number, factor: number): number => {
      const ohm = workingOhm(problem.heat, network, { value, coldOhm: sender.ohm(value) * factor });
      return gauge.reading(seenOhm(network, ohm)) - value;
    };
    return Array.from({ length: PARTS + 1 }, (_, index) => {
      const value = band.from + ((band.to - band.from) * index) / PARTS;
      const ends = [1 - asked.percent / 100, 1 + asked.percent / 100].map((factor) => errorAt(value, factor));
      return { value, low: Math.min(...ends), high: Math.max(...ends) };
    }).filter(({ low, high }) => Number.isFinite(low) && Number.isFinite(high));
  });
};
