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
