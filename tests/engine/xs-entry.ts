// What runs inside the XS engine: asked "part/rule" by their numbers, it runs that rule and answers "ok" or what went
// wrong. For the bench; the tests run the firmware in chip time (chip-time/).
import { faultKinds } from './fault-injection';
import { reportCodes, reportFigures, reportWalks } from './reports';
import { scenarios } from './scenarios';
import { boot, prepare, readNoise, soak } from './soak';

type Command = (bytes: ArrayBuffer) => ArrayBuffer;

const textOf = (bytes: ArrayBuffer): string => String.fromCharCode(...new Uint8Array(bytes));
const bytesOf = (text: string): ArrayBuffer =>
  Uint8Array.from({ length: text.length }, (_, index) => text.charCodeAt(index) & 0xff).buffer;

function answer(question: string): string {
  const [part = '', number = '', count = ''] = question.split('/');
  if (part === 'prepare') return prepare();
  if (part === 'boot') return boot();
  if (part === 'soak') return soak(Number(number));
  if (part === 'noise') return readNoise(Number(number));
  if (part === 'faults') return faults(Number(number));
  if (part === 'walk') return reportWalks(Number(number), Number(count));
  if (part === 'figures') return reportFigures(Number(number), Number(count));
  if (part === 'codes') return reportCodes();
  const one = scenarios[Number(part)]?.[1][Number(number)];
  if (one === undefined) return `no such rule: ${question}`;
  one.run();
  return 'ok';
}

/** Injects every fault of one kind: how many were tried, and the first that was not survived. */
function faults(kind: number): string {
  const attempts = faultKinds[kind]?.[1]() ?? [];
  const failed = attempts.find(({ trouble }) => trouble !== undefined);
  return `${attempts.length} tried, ${failed === undefined ? 'all survived' : `${failed.fault}: ${failed.trouble}`}`;
}

const handleCommand: Command = (bytes) => {
  try {
    return bytesOf(answer(textOf(bytes)));
  } catch (reason) {
    return bytesOf(reason instanceof Error ? `${reason.message}` : 'threw something that is no Error');
  }
};

Object.assign(globalThis, { handleCommand });
