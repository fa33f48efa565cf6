type Unit = { readonly unit: string };

/** Refusals of what is entered in a job: the check, the sweep, senders, taking back. */
export const jobRefusals = {
  CONFIRM_FIRST: {
    status: 422,
    says: ({ confirmation, asks }: { readonly confirmation?: string; readonly asks: string }) =>
      confirmation === undefined ? `Not confirmed: ${asks}` : `Confirm "${confirmation}" first: ${asks}`,
    remedy: '',
  },
  NO_SUCH_ENTRY: {
    status: 422,
    says: ({ what, id }: { readonly what: string; readonly id: string }) =>
      `There is no ${what} "${id}" in this job.`,
    remedy: 'Look at the sheet again: it may have been taken back.',
  },
  NOTHING_CHANGED: { status: 422, says: () => 'Nothing was changed.', remedy: '' },
  UNIT_UNKNOWN: {
    status: 422,
    says: ({ unit, own }: Unit & { readonly own: string }) =>
      `${unit} cannot be turned into ${own}, in which this job is kept.`,
    remedy: 'Use another unit of the same kind.',
  },
  READING_OFF_SCALE: {
    status: 422,
    says: ({
      value,
      lowest,
      highest,
      unit,
    }: Unit & { readonly value: number; readonly lowest: number; readonly highest: number }) =>
      `${value} ${unit} is far off this dial (${lowest} to ${highest} ${unit}).`,
    remedy: 'Type it again.',
  },
  ALREADY_STRUCK: { status: 422, says: () => 'This is struck already.', remedy: '' },
  NOT_STRUCK: { status: 422, says: () => 'This reading counts already.', remedy: '' },
  STEP_DONE: {
    status: 422,
    says: () => 'This step was read or skipped already.',
    remedy: 'Repeat it to read it again.',
  },
  STEP_NOT_CURRENT: {
    status: 422,
    says: () => 'Another step is being asked now.',
    remedy: 'Look at the sheet, then answer that one.',
  },
  ANSWER_SUPERSEDED: {
    status: 422,
    says: ({ by, reading }: { readonly by: string; readonly reading?: string }) =>
      `${by}${reading === undefined ? '' : ` (${reading})`} answered this step first. Yours is kept in the journal.`,
    remedy: 'If theirs is wrong, strike it and repeat the step.',
  },
  OTHER_ANSWER: {
    status: 422,
    says: ({ wants }: { readonly wants: 'reading' | 'needle' }) =>
      wants === 'reading'
        ? 'This step asks what the needle shows.'
        : 'This step asks where the needle stands against the mark.',
    remedy: 'Look at the sheet again.',
  },
  NOT_ASKING: {
    status: 422,
    says: () => 'Nothing is being asked at this step now.',
    remedy: 'Look at the sheet again.',
  },
  NOT_SETTLED: {
    status: 422,
    says: ({ leftSecond }: { readonly leftSecond?: number }) =>
      leftSecond === undefined
        ? 'The needle is not at rest yet.'
        : `The needle is not at rest yet: ${leftSecond} s to go.`,
    remedy: 'Read it when the sweep asks for it.',
  },
  SWEEP_RUNNING: {
    status: 422,
    says: () => 'A sweep is running.',
    remedy: 'Pause or finish it first.',
  },
  SWEEP_PAUSED: { status: 422, says: () => 'The sweep is paused.', remedy: 'Resume it first.' },
  NO_SWEEP: { status: 422, says: () => 'No sweep is open.', remedy: 'Start one first.' },
  SHORT_SWEEP_TOO_EARLY: {
    status: 422,
    says: ({ least }: { readonly least: number }) =>
      `A sweep is cut short only where a box steps through resistances, and after ${least} readings.`,
    remedy: 'Go on with the sweep, or finish it here.',
  },
  SHORT_SWEEP_OUTSIDE: {
    status: 422,
    says: ({
      resistanceOhm,
      least,
      most,
    }: {
      readonly resistanceOhm: number;
      readonly least: number;
      readonly most: number;
    }) =>
      `${resistanceOhm} \u03a9 is not between what was read already and the end of this sweep: ${least} to ${most} \u03a9.`,
    remedy: 'Go on with the sweep as it was planned.',
  },
  SEEK_NEEDS_FAMILY: {
    status: 422,
    says: () =>
      'Nobody has said which resistance belongs to the low end of this dial and which to the high end.',
    remedy: 'Say so, or step through a few resistances first.',
  },
  STOPPED: {
    status: 422,
    says: () => 'STOP was pressed after this was asked for.',
    remedy: 'Ask again if you mean it.',
  },
  HOST_ENDING: { status: 422, says: () => 'This host is ending.', remedy: 'Start it again first.' },
  NOT_YOURS: {
    status: 422,
    says: ({ by }: { readonly by: string }) => `"${by}" entered this and can take it back.`,
    remedy: 'A wrong reading or point can be struck by anybody.',
  },
  NOT_NEWEST: {
    status: 422,
    says: () => 'You have entered something since.',
    remedy: 'Look at the sheet, then take that back first.',
  },
  NOTHING_TO_UNDO: {
    status: 422,
    says: () => 'There is nothing of yours left that can be taken back.',
    remedy: '',
  },
  CANNOT_UNDO: {
    status: 422,
    says: ({ kind }: { readonly kind: string }) => `"${kind}" happened and cannot be taken back.`,
    remedy: 'A note can explain it.',
  },
  CHECK_CONTRADICTS: {
    status: 422,
    says: ({ disagreement }: { readonly disagreement: string }) =>
      `Nothing is called sound over this: ${disagreement}`,
    remedy: '',
  },
  CHECK_NOT_WHOLE: {
    status: 422,
    says: ({ missing }: { readonly missing: readonly string[] }) =>
      `"sound" is not said before these were asked: ${missing.join('; ')}.`,
    remedy: 'Ask them, or conclude "nothing-found".',
  },
  NOT_DIAGNOSABLE: {
    status: 422,
    says: () =>
      'Without the kind of the gauge and the ohms of its sender at both ends of its dial, in its vehicle, no next test is known.',
    remedy: 'Say them at the head of the sheet, or answer the list.',
  },
  TEST_NOT_OF_GAUGE: {
    status: 422,
    says: ({ test }: { readonly test: string }) =>
      `${test}: this gauge, or this way of working, has no such test.`,
    remedy: 'Take the one that is asked.',
  },
  TEST_VALUE_IMPOSSIBLE: {
    status: 422,
    says: ({
      test,
      lowest,
      highest,
    }: {
      readonly test: string;
      readonly lowest: number;
      readonly highest: number;
    }) => `${test}: no such reading lies outside ${lowest} to ${highest}.`,
    remedy: 'Look at the unit and the decimal point, and read again.',
  },
  LOAD_TOO_LOW: {
    status: 422,
    says: ({ atOhm, lowestOhm }: { readonly atOhm: number; readonly lowestOhm: number }) =>
      `${atOhm} ohm is less than such a sender ever has (${lowestOhm} ohm): the gauge may burn.`,
    remedy: 'Take it off at once, and put on no less than that.',
  },
  LOAD_UNSAID: {
    status: 422,
    says: ({ lowestOhm }: { readonly lowestOhm: number }) =>
      `Nobody said what was on the sender wire; no less than ${lowestOhm} ohm may be.`,
    remedy: 'Say the ohms of the load with the reading.',
  },
  NOT_COLD: {
    status: 422,
    says: ({
      probeCelsius,
      limitCelsius,
      until,
    }: {
      readonly probeCelsius?: number;
      readonly limitCelsius: number;
      readonly until?: string;
    }) =>
      probeCelsius === undefined
        ? `Cold is measured, not said: hold your own thermometer on the top hose. Under ${limitCelsius} degC it may be opened.${until === undefined ? '' : ` Or wait until ${until}.`}`
        : `${probeCelsius} degC: nothing is opened before it is under ${limitCelsius} degC.`,
    remedy: 'Let it cool, and measure again.',
  },
  NO_AIRBAG_WAIT: {
    status: 422,
    says: () =>
      'How many minutes does the manual want after battery negative is off? 0 where there are no airbags.',
    remedy: 'Give the minutes.',
  },
  NOT_HELD: {
    status: 422,
    says: ({ seconds }: { readonly seconds: number }) =>
      `Hold it for ${seconds} s with hands and leads out of fan and belts.`,
    remedy: 'Hold it again.',
  },
  SHORT_NEVER: {
    status: 422,
    says: ({ ohm }: { readonly ohm: number }) =>
      `${ohm} ohm is a wire to ground: only coils with a ground of their own are known to bear it.`,
    remedy: 'Take no less than its own sender ever has.',
  },
  PAST_STABILISER: {
    status: 422,
    says: () =>
      'The stabiliser lets the whole supply through: a 10 V gauge on 14 V gets twice the heat. Nothing is driven.',
    remedy: 'Mend the stabiliser, say so, and check again.',
  },
  TANK_CURRENT: {
    status: 422,
    says: ({ percent }: { readonly percent?: number }) =>
      `This network lets ${percent === undefined ? 'more' : `${percent} % more`} current into the tank than its maker let in.`,
    remedy: 'Choose one that does not.',
  },
  TWO_NAMES: {
    status: 422,
    says: () => 'Who drives does not read: two names are wanted, the driver\u2019s and the reader\u2019s.',
    remedy: 'Give both. Alone: stop, then read.',
  },
  ENGINE_SENSOR: {
    status: 422,
    says: () => 'Not this one: it feeds the engine controller.',
    remedy: 'Leave it as it is, and look for the gauge\u2019s own sender.',
  },
  CONCLUSION_UNPROVED: {
    status: 422,
    says: ({ cause, missing }: { readonly cause: string; readonly missing: string }) =>
      `Nobody has measured what would prove it (${cause}): ${missing}.`,
    remedy: 'Measure that first, or conclude that nothing is found yet.',
  },
  NOT_THE_BOX: {
    status: 422,
    says: () => 'Only the box says what the box measured.',
    remedy: 'Send "capture-measurement", or "person" as the source of a figure from a meter.',
  },
  OHM_NEGATIVE: {
    status: 422,
    says: ({ valueOhm }: { readonly valueOhm: number }) => `${valueOhm} ohm: a resistance is not negative.`,
    remedy: 'Turn the meter\u2019s leads round and measure again.',
  },
  OFF_NOT_MEASURED: {
    status: 422,
    says: ({ loads }: { readonly loads: string }) =>
      `Without a measurement with everything off nobody can see whether the ${loads} changed anything.`,
    remedy: 'Measure with everything off first.',
  },
  LOADS_NOT_SEEN: {
    status: 422,
    says: ({ loads, off, now }: { readonly loads: string; readonly off: string; readonly now: string }) =>
      `Nothing changed: ${off} with everything off, ${now} now. Are the ${loads} on?`,
    remedy: 'Switch them on and measure again, or say that they are on.',
  },
  SENDER_UNIT_HELD: {
    status: 422,
    says: ({ title, from, to }: { readonly title: string; readonly from: string; readonly to: string }) =>
      `"${title}" has points in ${from}, which would be read as ${to}. For ${to}, add another sender.`,
    remedy: 'Or take those points back first.',
  },
} as const;
