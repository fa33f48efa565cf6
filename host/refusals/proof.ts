type Unit = { readonly unit: string };

const SHUT = {
  'as-found': 'nobody noted what the needle showed, beside a reference, before anything was touched',
  chain: 'nobody compared what was found with what gauge and sender together foretell',
  'fault-remains':
    'gauge and sender together do not show what their curves say: a fault remains, and a resistor would hide it',
  finding: 'the check found a fault, and a resistor would hide it',
} as const;

/** Refusals of a proof in the vehicle. */
export const proofRefusals = {
  TRIM_SHUT: {
    status: 422,
    says: ({ why }: { readonly why: keyof typeof SHUT }) => `Trim is shut: ${SHUT[why]}.`,
    remedy: 'Do that first, or sign with a reason that is printed.',
  },
  TRIM_OPEN: { status: 422, says: () => 'Trim is open: nothing needs a signature.', remedy: '' },
  SIGN_WITH_REASON: {
    status: 422,
    says: ({ leastLetters }: { readonly leastLetters: number }) =>
      `A signature wants a reason in words, ${leastLetters} letters or more: it is printed.`,
    remedy: 'Say why a resistor is fitted all the same.',
  },
  CHAIN_NEEDS_READING: {
    status: 422,
    says: () => 'No reading as found has a reference with its \u00b1.',
    remedy: 'Note one natural state in Check: a night\u2019s soak is free.',
  },
  RULE_FIRST: {
    status: 422,
    says: () => 'Nobody chose yet by which limit and rule the pairs are judged.',
    remedy: 'Choose both before the first pair: afterwards they would fit the pairs.',
  },
  RULE_STAYS: {
    status: 422,
    says: () => 'Pairs were judged by this rule.',
    remedy: 'Say anew what is fitted: that begins the proof anew.',
  },
  ENGINE_TOO_HOT: {
    status: 422,
    says: ({ reference, limit, unit }: Unit & { readonly reference: number; readonly limit: number }) =>
      `Engine off now: ${reference} ${unit} on the reference (limit ${limit} ${unit}). No point is worth it.`,
    remedy: 'The proof goes on when the engine is cold; the hot end is proved by known ohms.',
  },
  NO_REASON: {
    status: 422,
    says: ({ leastLetters }: { readonly leastLetters: number }) =>
      `This pair is outside the limit: to strike it wants a reason in words, ${leastLetters} letters or more.`,
    remedy: 'Say why it does not count, then take a fresh one at its place.',
  },
  LIMIT_TOO_WIDE: {
    status: 422,
    says: ({
      percent,
      widest,
      unit,
    }: Unit & { readonly percent: number; readonly widest: number | string }) =>
      `A needle that may be wrong by more than ${percent} % of its scale (${widest} ${unit}) proves nothing.`,
    remedy: 'Give a tighter limit.',
  },
  LIMIT_STAYS: {
    status: 422,
    says: () => 'Pairs were judged by this limit.',
    remedy: 'Set the limit that you want instead.',
  },
  OUTSIDE_STAYS: {
    status: 422,
    says: () => 'This pair is outside the limit and stays in the job.',
    remedy: 'Strike it and say why it does not count.',
  },
  NO_NETWORK: {
    status: 422,
    says: ({ isEmpty }: { readonly isEmpty: boolean }) =>
      isEmpty ? 'The choice was to fit no parts.' : 'No network was chosen in this job.',
    remedy: 'Choose one in Trim, or say that nothing is fitted.',
  },
  NETWORK_CHANGED: {
    status: 422,
    says: () => 'Another network was chosen than the one that was said to be fitted.',
    remedy: 'Look at it again, then say which is fitted.',
  },
  NOT_FITTED: {
    status: 422,
    says: () => 'A network was chosen, but nobody said that it is fitted.',
    remedy: 'Say so first, or that nothing is fitted.',
  },
  AS_FOUND_IS_OVER: {
    status: 422,
    says: () => 'A network is fitted: what is read now is as left, not as found.',
    remedy: '',
  },
  NO_REFERENCE_UNCERTAINTY: {
    status: 422,
    says: () => 'Missing: the \u00b1 of the reference. No reference is exact.',
    remedy: 'Give what its maker states, or what you trust it to.',
  },
  PLACE_OFF_SCALE: {
    status: 422,
    says: ({
      reference,
      lowest,
      highest,
      unit,
    }: Unit & { readonly reference: number; readonly lowest: number; readonly highest: number }) =>
      `${reference} ${unit} is not on this dial (${lowest} to ${highest} ${unit}), so its needle cannot be judged there.`,
    remedy: 'Give a place on the scale.',
  },
  NOT_PROVED_YET: {
    status: 422,
    says: () => 'Nothing was proved yet that could have moved since.',
    remedy: 'Finish the proof first.',
  },
  NOT_AS_LEFT_HERE: {
    status: 422,
    says: ({ places, unit }: Unit & { readonly places: readonly number[] }) =>
      `Nothing was proved there with the needle moving this way: it was at ${places.join(', ')} ${unit}.`,
    remedy: 'Read it near one of these, as it was read then.',
  },
  NO_OHM_UNCERTAINTY: {
    status: 422,
    says: () => 'Missing: the \u00b1 of the ohms.',
    remedy: 'Give the resistor\u2019s tolerance, or what the meter is good to.',
  },
  NO_SENDER: {
    status: 422,
    says: () => 'Missing: the sender\u2019s curve, which says what these ohms stand for.',
    remedy: 'Give its points in Sender first.',
  },
} as const;
