import { senderPointsOf, shortName, specimenOf, type GaugeCard, type SenderCard } from '../../catalogue';
import { fitSpecimen } from '../../core/catalogue/columns';
import { gaugeResponse } from '../../core/curve';
import { matchSenders, type Match } from '../../core/network';
import type { Refusal } from '../../core/refusal';
import type { Quantity, SenderResponse } from '../../core/response';
import type { Refused } from '../../core/result';
import { fitSender, senderResponse } from '../../core/sender';
import { unitChange } from '../../core/units';
import type { SendersForGauge, SuitedSender } from '../../job/wire/catalogue-messages';
import { refuse } from '../../refusals';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';
import { Catalogue, type Entry } from './catalogue';
import { searchable } from './find';
import { cardsOfFolder } from './job-cards';
import { newestOfModels, ofModel } from './models';
import { unknownPart, type PartMeant } from './part';
import { CatalogueTrouble } from './sqlite';

/** A sender of the catalogue, as its newest card has it. */
export type NamedSender = {
  readonly name: string;
  readonly entry: Entry;
  readonly card: SenderCard;
};

/** Every sender that measures what a gauge shows, the newest card of each model. */
export function sendersMeasuring(
  catalogue: Catalogue,
  { quantity, unit }: { readonly quantity: Quantity; readonly unit: string },
  withSimulated: boolean,
): NamedSender[] {
  const meant = searchable(catalogue.entries(), withSimulated).filter(
    ({ summary }) =>
      summary.kind === 'sender' &&
      summary.quantity === quantity &&
      unitChange(summary.unit, unit).kind === 'unit-change',
  );
  return newestOfModels(meant).flatMap((entry) => {
    const card = catalogue.card(entry.hash);
    return card?.kind === 'sender' ? [{ name: entry.model ?? shortName(entry.hash), entry, card }] : [];
  });
}

export type SendersQuestion = {
  /** Where the catalogue lies. */
  readonly folder: string;
  readonly program: string;
  /** The gauge: a part of the catalogue, or that of a job. */
  readonly of: PartMeant | { readonly kind: 'job'; readonly jobFolder: string };
};

/**
 * Which senders of the catalogue suit a gauge, best first by the worst error that is left with at most two resistors.
 * Refuses as `cardsOfFolder` and the fit of the gauge do; CARD_IS_NO_GAUGE, MODEL_UNKNOWN, CARD_UNKNOWN, and what the disk
 * of the catalogue refuses.
 */
export async function sendersForGauge({
  folder,
  program,
  of,
}: SendersQuestion): Promise<SendersForGauge | Refused> {
  if (!Catalogue.isIn(folder)) return of.kind === 'job' ? NO_SENDERS : unknownPart(of);
  let catalogue: Catalogue | undefined;
  try {
    catalogue = await Catalogue.open(folder, program);
    const gauge = of.kind === 'job' ? await gaugeOfJob(of.jobFolder, program) : gaugeMeant(catalogue, of);
    if ('code' in gauge) return gauge;
    const withSimulated = of.kind === 'job' ? gauge.simulated : of.withSimulated;
    return ranked(gauge, sendersMeasuring(catalogue, gauge, withSimulated));
  } catch (error) {
    if (error instanceof CatalogueTrouble) return error.refused;
    throw error;
  } finally {
    catalogue?.close();
  }
}

const NO_SENDERS: SendersForGauge = { kind: 'senders-for-gauge', unit: '', senders: [], unusable: [] };

async function gaugeOfJob(jobFolder: string, program: string): Promise<GaugeCard | Refused> {
  const made = await cardsOfFolder(jobFolder, program);
  if (made.kind === 'refused') return made;
  return made.cards.filter((card) => card.kind === 'gauge').at(-1) ?? refuse('CARD_IS_NO_GAUGE');
}

/** A model stands for itself with its newest card. */
function gaugeMeant(catalogue: Catalogue, { kind, name, withSimulated }: PartMeant): GaugeCard | Refused {
  const typed = kind === 'card' ? catalogue.meant(name) : newestOfModel(catalogue, name, withSimulated);
  if (typed === undefined) return refuse('MODEL_UNKNOWN', { name, near: undefined });
  if (typeof typed !== 'string') return typed;
  const card = catalogue.card(typed);
  return card?.kind === 'gauge' ? card : refuse('CARD_IS_NO_GAUGE');
}

const newestOfModel = (catalogue: Catalogue, name: string, withSimulated: boolean): string | undefined =>
  newestOfModels(searchable(ofModel(catalogue.entries(), name), withSimulated))[0]?.hash;

/** A gauge marked in nothing that a sender measures is compared in its own unit: it finds none. */
function ranked(card: GaugeCard, named: readonly NamedSender[]): SendersForGauge | Refused {
  const curve = fitSpecimen(specimenOf(card));
  if (curve.kind === 'refused') return told(curve);
  const usable: { readonly sender: NamedSender; readonly response: SenderResponse }[] = [];
  const unusable: { readonly name: string; readonly why: string }[] = [];
  for (const sender of named) {
    const response = responseOf(sender.card);
    if ('code' in response) unusable.push({ name: sender.name, why: saidRefusal(response, plain) });
    else usable.push({ sender, response });
  }
  const found = matchSenders(
    gaugeResponse(curve),
    usable.map(({ response }) => response),
    {
      ...(card.mechanism === undefined ? {} : { mechanism: card.mechanism }),
      ...(card.terminals === undefined ? {} : { terminals: card.terminals }),
    },
  );
  if (found.kind === 'refused') return told(found);
  return {
    kind: 'senders-for-gauge',
    unit: card.unit,
    senders: found.matches.flatMap((match) => suited(match, usable[match.sender]?.sender)),
    unusable: [
      ...unusable,
      ...found.unusable.map(({ sender, reason }) => ({
        name: usable[sender]?.sender.name ?? '',
        why: saidRefusal(reason, plain),
      })),
    ],
  };
}

const told = (refusal: Refusal): Refused => ({
  ...{ kind: 'refused', code: refusal.code, message: saidRefusal(refusal, plain) },
});

function responseOf(card: SenderCard): SenderResponse | Refusal {
  const fitted = fitSender(senderPointsOf(card), { unit: card.unit });
  return fitted.kind === 'refused' ? fitted : senderResponse(fitted);
}

function suited(match: Match, sender: NamedSender | undefined): SuitedSender[] {
  if (sender === undefined) return [];
  const { entry, name } = sender;
  return [
    {
      ...{ name, card: shortName(entry.hash) },
      ...(entry.model === undefined ? {} : { model: entry.model }),
      ...{ isSimulated: entry.summary.simulated, isDemo: entry.summary.demo },
      ...{ alone: match.withoutNetwork, worst: match.withNetwork, keepsRule: match.keepsRule },
      heat: match.heat,
      parts: match.network.parts.map(({ place, resistanceOhm }) => ({ place, resistanceOhm })),
    },
  ];
}
