/** Where a part is shown: a model with its specimens, else its one card. */
export const addressOf = ({
  model,
  cards,
}: {
  readonly model?: string;
  readonly cards: readonly string[];
}): string =>
  model === undefined ? `#/catalogue/card/${encodeURIComponent(cards[0] ?? '')}` : modelAddress(model);

export const modelAddress = (model: string): string => `#/catalogue/model/${encodeURIComponent(model)}`;
