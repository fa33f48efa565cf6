import { faultSentence, type JobKind } from '../../../protocol';
import { Box } from '../../bench/box/box';
import { vitalOf, type Vital } from '../../bench/box/vital';
import { typedNumber } from '../../core/text/number';
import type { BoxLink } from '../../link';
import { BOX_OPTIONS, boxFrom, untilLive } from '../input/box-options';
import { JSON_OPTION, type Command, type Surroundings } from '../command';
import { RefusedError } from '../input-error';
import type { Arguments } from '../options';
import type { AnswerOf } from '../output/schemas';

const KINDS = ['thermal', 'magnetic', 'electronic', 'unknown'] as const satisfies readonly JobKind[];
const SCHEMA = 'needlewright/hold/1';
const SAFE = 'a bench supply with its current limited on the clips, or nothing; no vehicle and no gauge?';
const PROMPT = 'ohms to make, Enter to look, c to clear a trip and arm anew, q to open and end: ';

/** Any resistance by hand, without a job: what building and checking a box asks for. */
export const holdCommand: Command = {
  name: 'hold',
  summary: 'a resistance by hand, for building and checking a box on the bench',
  usage: '[--port PATH | --simulate NAME] [options]',
  example: 'needlewright hold --port /dev/ttyACM0 --kind magnetic',
  details: [
    'Arms the box (its self-test runs) with its own limits for a kind of gauge, then makes each resistance that is typed and shows what the box',
    'measures and which contacts are closed. For hardware-notes/build.md and acceptance.md: never on a vehicle or a gauge,',
    'which have the page and "sweep". The output opens at q, Ctrl-C and the end of the input.',
    'With --json one JSON object a line.',
  ],
  options: {
    ...BOX_OPTIONS,
    kind: { kind: 'choice', choices: KINDS, help: "whose limits of the box's own; unknown when left out" },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 0 },
  run,
};

async function run(given: Arguments, surroundings: Surroundings): Promise<undefined> {
  const source = boxFrom(given, surroundings);
  const kind = given.text('kind') ?? 'unknown';
  const link = await source.openOnce();
  const end = link.subscribe((event) => {
    if (event.kind !== 'tripped') return;
    const { faultCode, measured, limit } = event.fields;
    surroundings.err(`tripped, output open: ${faultSentence(faultCode, measured, limit)}`);
  });
  const box = new Box(link);
  try {
    await untilLive(link);
    const isSafe = await surroundings.ask(`${SAFE} [y/n] `);
    if (!/^y(es)?$/i.test(isSafe?.trim() ?? '')) throw new RefusedError('HOLD_STOPPED', 'nothing was armed');
    const tell: Tell = (text, found) => surroundings.out(given.flag('json') ? JSON.stringify(found) : text);
    const known = KINDS.find((one) => one === kind) ?? 'unknown';
    const hand = new Hand(box, known, { tell, err: surroundings.err });
    await hand.arm();
    await untilEnd(surroundings, (typed) => hand.does(typed));
    return undefined;
  } finally {
    await source.end();
    end();
  }
}

async function untilEnd(
  { ask, interrupted }: Surroundings,
  does: (typed: string) => Promise<void>,
): Promise<void> {
  for (;;) {
    const typed = await Promise.race([ask(PROMPT), interrupted.then(() => undefined)]);
    if (typed === undefined || typed.trim() === 'q') return;
    await does(typed.trim());
  }
}

/** The same finding for a person and for a program. */
type Tell = (text: string, found: AnswerOf<'hold'>) => void;
type Voice = { readonly tell: Tell; readonly err: Surroundings['err'] };

/** What one person at the keyboard may ask of the box. */
class Hand {
  readonly #box: Box;
  readonly #kind: JobKind;
  readonly #voice: Voice;

  constructor(box: Box, kind: JobKind, voice: Voice) {
    this.#box = box;
    this.#kind = kind;
    this.#voice = voice;
  }

  async arm(): Promise<void> {
    const armed = await this.#box.arm(this.#kind);
    if (armed.kind === 'refused') return this.#voice.err(`not armed: ${armed.message}`);
    const volt = armed.openCircuitVolt;
    this.#voice.tell(`armed: ${this.#kind}, ${volt.toFixed(2)} V on the clips`, {
      schema: SCHEMA,
      kind: 'armed',
      limits_of: this.#kind,
      open_circuit_V: volt,
    });
  }

  async does(typed: string): Promise<void> {
    if (typed === 'c') return this.#clear();
    if (typed !== '') await this.#make(typed);
    return this.#look();
  }

  async #make(typed: string): Promise<void> {
    const { tell, err } = this.#voice;
    const ohm = typedNumber(typed);
    if (ohm.kind === 'refused' || !(ohm.value > 0))
      return err('not made: write the ohms as a number, more than 0, for example 41.3 or 1k2');
    const made = await this.#box.set(ohm.value);
    if (made.kind === 'refused') return err(`not made: ${made.message}`);
    const { madeOhm, uncertaintyOhm, isLimited } = made;
    const limited = isLimited
      ? ', its limiter included, which comes out once current has proved the setting'
      : '';
    tell(`made ${madeOhm.toFixed(3)} ohm, standard uncertainty ${uncertaintyOhm.toFixed(3)} ohm${limited}`, {
      schema: SCHEMA,
      kind: 'made',
      limiter_in_path: isLimited,
      made_ohm: madeOhm,
      standard_uncertainty_ohm: uncertaintyOhm,
    });
  }

  async #look(): Promise<void> {
    const beat = await heartbeat(this.#box.link);
    if (beat === undefined) return;
    const { text, json } = lookWords({ contactMask: beat.contactMask, ...vitalOf(beat, 0) });
    this.#voice.tell(text, json);
  }

  async #clear(): Promise<void> {
    const beat = await heartbeat(this.#box.link);
    if (beat === undefined) return;
    const cleared = await this.#box.clear(beat.faultCode);
    if ('code' in cleared) return this.#voice.err(`not cleared: ${cleared.message}`);
    return this.arm();
  }
}

/** Undefined: the opening of the output went before it, since the program ends; that is no failure of the box. */
async function heartbeat(link: BoxLink): Promise<Parameters<typeof vitalOf>[0] | undefined> {
  const beat = await link.request('heartbeat', { channel: 0 });
  if (beat.kind === 'answer') return beat.fields;
  if (beat.code === 'LINK_OVERTAKEN') return undefined;
  throw new RefusedError(beat.code, beat.message);
}

/** What the box is doing, for a person and for a program. What the meter does not vouch for is not said. */
export function lookWords(seen: Vital & { readonly contactMask: number }): {
  readonly text: string;
  readonly json: AnswerOf<'hold'>;
} {
  const { state, volt, milliamp, measuredOhm, contactMask } = seen;
  const parts = [
    `state ${state}`,
    `closed contacts, bit 15 to bit 0: ${contactMask.toString(2).padStart(16, '0')}`,
    volt === undefined ? 'volts not read yet' : `${volt.toFixed(4)} V`,
    ...(milliamp === undefined ? [] : [`${milliamp.toFixed(2)} mA`]),
    ...(measuredOhm === undefined ? [] : [`measured ${measuredOhm.toFixed(3)} ohm`]),
  ];
  const json = {
    schema: SCHEMA,
    kind: 'look',
    state,
    contact_mask: contactMask,
    terminal_V: volt ?? null,
    current_mA: milliamp ?? null,
    measured_ohm: measuredOhm ?? null,
  } as const;
  return { text: parts.join(', '), json };
}
