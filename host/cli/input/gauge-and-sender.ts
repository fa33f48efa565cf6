import { gaugeResponse, type GaugeCurve } from '../../core/curve';
import type { DissipationFactor } from '../../core/at-work';
import type { Dial } from '../../core/dial';
import type { GaugeResponse, SenderResponse } from '../../core/response';
import { senderResponse, type FittedSender } from '../../core/sender';
import type { Surroundings } from '../command';
import { coreUnitFromText, fitGaugeInput, readGaugeInput, type GaugeInput } from './gauge-file';
import { OHMMETER_OPTIONS, statedOhms } from './ohmmeter-options';
import { InputError, refusedError } from '../input-error';
import type { Arguments, OptionTable } from '../options';
import { fitSenderInput, readSenderInput, type SenderInput } from './sender-file';
import { plain } from '../../words/notation';
import { saidRemark } from '../../words/remark';

const QUANTITIES = ['temperature', 'fuel', 'pressure', 'other'] as const;

export const CURVE_FILE_OPTIONS = {
  gauge: { kind: 'text', value: 'CURVE', help: 'readings CSV of the gauge, or the JSON of "curve"' },
  sender: { kind: 'text', value: 'CURVE', help: 'points CSV of the sender, or the JSON of "sender"' },
  'gauge-unit': {
    kind: 'text',
    value: 'UNIT',
    help: 'unit of the dial when its file does not say it: C, F, kPa, psi, bar, %',
  },
  type: { kind: 'choice', choices: QUANTITIES, help: 'what the dial shows, when its unit does not say it' },
  ...OHMMETER_OPTIONS,
} as const satisfies OptionTable;

export type LoadedGauge = {
  readonly curve: GaugeCurve;
  readonly response: GaugeResponse;
  /** What is known of its dial. */
  readonly dial: Dial | undefined;
  readonly warnings: readonly string[];
};
export type LoadedSender = {
  readonly sender: FittedSender;
  readonly response: SenderResponse;
  readonly dissipation?: DissipationFactor | undefined;
  readonly warnings: readonly string[];
};

/**
 * The curve a gauge file holds, in a stated unit. A dial whose unit nobody gave is taken to be marked as the sender is,
 * with a warning: the two are never compared in different units.
 */
export async function loadGauge(
  given: Arguments,
  surroundings: Surroundings,
  senderUnit: string,
  path = required(given, 'gauge'),
): Promise<LoadedGauge> {
  const input = await readGaugeInput(path, surroundings);
  const { unit, warning } = dialUnit(input, given.text('gauge-unit'), senderUnit);
  const quantity = QUANTITIES.find((name) => name === given.text('type'));
  const curve = fitGaugeInput(input, {
    unit,
    ...statedOhms(given, input, true),
    ...(quantity === undefined ? {} : { quantity }),
  });
  return {
    curve,
    response: gaugeResponse(curve),
    dial: input.reader.dial,
    warnings: [
      ...input.warnings,
      ...warning,
      ...curve.warnings.map((each) => `${input.file}: ${saidRemark(each, plain)}`),
    ],
  };
}

function dialUnit(
  input: GaugeInput,
  asked: string | undefined,
  senderUnit: string,
): { readonly unit: string; readonly warning: readonly string[] } {
  if (asked === undefined && input.unit !== '') return { unit: input.unit, warning: [] };
  if (asked === undefined) {
    const said = senderUnit === '' ? 'the unit of the sender' : `${senderUnit}, the unit of the sender`;
    const warning = `${input.file}: the readings do not say their unit; they are taken to be in ${said} (say --gauge-unit if they are not)`;
    return { unit: senderUnit, warning: [warning] };
  }
  const unit = coreUnitFromText(asked);
  if (input.unit !== '' && input.unit !== unit) {
    throw new InputError(
      `--gauge-unit ${asked}: the file says ${input.unit}; correct the one that is wrong`,
      { file: input.file },
    );
  }
  return { unit, warning: [] };
}

export function required(given: Arguments, name: 'gauge' | 'sender'): string {
  const path = given.text(name);
  if (path === undefined) throw new InputError(`--${name} is missing: ${CURVE_FILE_OPTIONS[name].help}`);
  return path;
}

/** The sender a file holds, fitted. */
export async function loadSender(path: string, surroundings: Surroundings): Promise<LoadedSender> {
  return loadedSender(await readSenderInput(path, surroundings));
}

export function loadedSender(input: SenderInput): LoadedSender {
  const sender = fitSenderInput(input);
  const response = senderResponse(sender);
  if ('kind' in response) throw refusedError(response, `${input.file}: `);
  return {
    sender,
    response,
    dissipation: input.dissipation,
    warnings: [
      ...input.warnings,
      ...sender.warnings.map((each) => `${input.file}: ${saidRemark(each, plain)}`),
    ],
  };
}
