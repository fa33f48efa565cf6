import type { NotOneModel } from '../../core/catalogue/one-model';
import type { HeatReport, Place } from '../../core/network';
import type { Quantity } from '../../core/response';
import type { Gauge } from '../schema/gauge';

/** Which models of the catalogue a curve may belong to: the likeliest, and whatever cannot be told from it. */
export type LooksLike = {
  readonly names: readonly string[];
  /** Chance that it is one of these, 0 to 1. */
  readonly share: number;
};

/** A card that a job's finished measurements make. */
export type JobCard = {
  readonly kind: 'gauge' | 'sender';
  /** The name by which the catalogue knows it; left out while it is not kept. */
  readonly id?: string;
  /** It was not in the catalogue before this answer. */
  readonly new: boolean;
  readonly found?: 'as-found' | 'as-left';
  readonly simulated: boolean;
};

/** What the catalogue of the host has of a job, and whether it knows curves like that of its gauge. */
export type JobInCatalogue = {
  readonly kind: 'job-in-catalogue';
  /** Empty while nothing is finished. */
  readonly cards: readonly JobCard[];
  /** The model that a person named for the gauge. */
  readonly model?: string;
  readonly looksLike?: LooksLike;
};

/** A table that somebody has already: pasted, or out of a file. */
export type TableGiven = {
  /** Name of its file; left out for a pasted one. */
  readonly from?: string | undefined;
  readonly text: string;
  /** The card whose place its own takes: that of the same table before it was mended. */
  readonly replaces?: string | undefined;
};

/** What became of one table, or would become of it. */
export type TableTaken = {
  readonly cards: readonly {
    readonly kind: 'gauge' | 'sender';
    readonly quantity: Quantity;
    readonly name?: string;
    readonly points: number;
    /** The name by which the catalogue knows it; left out while it is not kept. */
    readonly id?: string;
    /** It was not in the catalogue before. */
    readonly new: boolean;
    /** Why no curve goes through its points; said once it is kept. */
    readonly refused?: string;
  }[];
  /** Rows and curves that became no card. The first hundred. */
  readonly leftOut: readonly {
    readonly row?: number | undefined;
    readonly column?: string | undefined;
    readonly message: string;
    readonly text?: string | undefined;
  }[];
  readonly leftOutCount: number;
  readonly warnings: readonly string[];
};

export type TablesInCatalogue = {
  readonly kind: 'tables-in-catalogue';
  /** In the order in which they were given. */
  readonly tables: readonly TableTaken[];
};

/** What is known of a part that is looked for. */
export type CatalogueAsk = {
  readonly kind: 'gauge' | 'sender';
  /** Of the values: `ARC_UNIT` for places of a needle on an unknown dial, 0 to 1, or a unit as it is printed. */
  readonly unit: string;
  readonly points: readonly { readonly resistanceOhm: number; readonly value: number }[];
  /** What is known of it besides; empty for nothing. */
  readonly words: string;
  readonly quantity?: Quantity | undefined;
  /** Simulated cards count too. */
  readonly withSimulated: boolean;
};

/** A model, or a card that nobody has given one. */
export type FoundPart = {
  readonly name: string;
  readonly model?: string;
  /** Names of its cards, as the catalogue shows them. */
  readonly cards: readonly string[];
  readonly quantity: Quantity;
  readonly unit: string;
  readonly mechanism?: Gauge['mechanism'];
  readonly isSimulated: boolean;
  readonly isDemo: boolean;
  /** Chance that it is this one, 0 to 1; left out where no readings were given. */
  readonly share?: number;
  /** Greatest distance of a reading from its curve: part of the arc, of a sender part of the ohms. */
  readonly offBy?: number;
  /** Its curve: ohms, and the place on the arc, or the sender's value in the unit that was asked in. */
  readonly line: readonly (readonly [resistanceOhm: number, value: number])[];
  /** Words of the question that it bears. */
  readonly because: readonly string[];
};

export type FoundInCatalogue = {
  readonly kind: 'found-in-catalogue';
  /** Best first. */
  readonly parts: readonly FoundPart[];
  readonly verdict?: 'clear' | 'open' | 'none';
  /** Chance that it is none of the catalogue's, 0 to 1. */
  readonly noneShare?: number;
  /** Where one more reading tells most: ohms for a gauge, the value for a sender; and what each would show there. */
  readonly next?: {
    readonly at: number;
    readonly expected: readonly { readonly name: string; readonly value: number; readonly unit: string }[];
  };
  /** Readings here would settle an open verdict, if it is the first one: ohms for a gauge, the value for a sender. */
  readonly settleAt?: readonly number[];
  /** What the catalogue holds. */
  readonly holds: { readonly gauges: number; readonly senders: number; readonly models: number };
  /** Cards of the catalogue that came along to try things with. */
  readonly demo: number;
  /** Simulated cards that were left out. */
  readonly leftOut: number;
  /** Cards that are not worked out yet. */
  readonly waiting: number;
};

/** One card of a model. Readings are in the unit of the dial, of a sender they are its values. */
export type ModelSpecimen = {
  readonly id: string;
  readonly description?: string;
  readonly measuredAt?: string;
  readonly found?: 'as-found' | 'as-left';
  readonly readings: number;
  readonly isSimulated: boolean;
  readonly isDemo: boolean;
  readonly withdrawnBecause?: string;
  readonly supersededBy?: string;
  /** It counts in what is said of the next one. */
  readonly counts: boolean;
  /** The card that speaks for the part this one is of, where that is another. */
  readonly sameAs?: string;
  readonly line: readonly (readonly [resistanceOhm: number, reading: number])[];
  /** How far it reads from the middle of all, dial units, at each reading of the middle. Empty for a sender. */
  readonly fromMiddle: readonly (readonly [reading: number, difference: number])[];
  /** Expanded uncertainty (95 %) where it is known worst: dial units; of a sender part of the ohms. */
  readonly knownTo?: number;
  /** Why it has no curve. */
  readonly refused?: string;
};

/** Two cards of one part whose curves lie further apart than both their uncertainties explain. */
export type CurvesDisagree = {
  readonly kind: 'gauge' | 'sender';
  /** Older first. */
  readonly cards: readonly [older: string, newer: string];
  /** Of a gauge's readings, of a sender's values. */
  readonly unit: string;
  /** Where it is clearest: ohms for a gauge, the value for a sender. */
  readonly at: number;
  /** What each shows there: readings of a gauge, ohms of a sender. */
  readonly shows: readonly [older: number, newer: number];
  /** So far apart their uncertainties explain. */
  readonly explained: number;
};

/** What a person says about cards of one part that contradict each other. */
export type SaidOfCard =
  | { readonly says: 'withdrawn'; readonly card: string; readonly reason: string }
  | { readonly says: 'replaced'; readonly card: string; readonly by: string; readonly reason: string }
  | { readonly says: 'apart'; readonly card: string };

/** A line of the table of a model: a mark of the dial, or a value of a sender. */
export type ModelMark = {
  readonly label: string;
  /** Ohms for a gauge, the value for a sender. */
  readonly at: number;
  readonly specimens: number;
  /** Reading of a gauge, ohms of a sender. */
  readonly middle: number;
  readonly spread: number;
  readonly next: { readonly from: number; readonly to: number };
  /** Here and at all other marks at once. */
  readonly together: { readonly from: number; readonly to: number };
  readonly tolerance?: { readonly from: number; readonly to: number };
  /** The side of a gauge on which an error hides danger: 95 % of all read no lower, or no higher. */
  readonly bound?: { readonly side: 'at-least' | 'at-most'; readonly reading: number };
};

/** A model with all its specimens, or one card by itself. */
export type PartInCatalogue = {
  readonly kind: 'part-in-catalogue';
  readonly part: 'gauge' | 'sender';
  readonly name: string;
  readonly model?: string;
  readonly alsoCalled: readonly string[];
  readonly quantity: Quantity;
  readonly unit: string;
  readonly mechanism?: Gauge['mechanism'];
  /** The dial, or the ends of what was measured where nobody described one. */
  readonly dial: Pick<Gauge, 'marks'>;
  readonly specimens: readonly ModelSpecimen[];
  readonly marks: readonly ModelMark[];
  /** What speaks against calling them one model. */
  readonly against: readonly NotOneModel[];
  /** Cards of one part that contradict each other. */
  readonly disagree: readonly CurvesDisagree[];
  readonly leftOut: number;
};

/** A sender of the catalogue beside a gauge. Errors are the worst of the band, in the unit of the dial. */
export type SuitedSender = {
  readonly name: string;
  readonly model?: string;
  readonly card: string;
  readonly isSimulated: boolean;
  readonly isDemo: boolean;
  /** Straight to the gauge. */
  readonly alone: number;
  /** With the resistors below, at most two. */
  readonly worst: number;
  readonly parts: readonly { readonly place: Place; readonly resistanceOhm: number }[];
  /** It errs to the dangerous side no further than the limit. */
  readonly keepsRule: boolean;
  /** What its own heat does in this circuit, or why that is left out. */
  readonly heat: HeatReport;
};

/** Which senders suit a gauge. */
export type SendersForGauge = {
  readonly kind: 'senders-for-gauge';
  /** Of the dial. */
  readonly unit: string;
  /** Best first: what keeps to the safe side before what does not, then the smaller worst error. */
  readonly senders: readonly SuitedSender[];
  readonly unusable: readonly { readonly name: string; readonly why: string }[];
};
