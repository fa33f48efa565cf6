import { createSignal, type Signal } from '../signal';

/** Two sounds that cannot be taken for each other: one rising chirp, one low double beat. */
export type Tones = {
  readonly isMuted: Signal<boolean>;
  readonly setMuted: (isMuted: boolean) => void;
  /** `place`: which needle of several, from the left; each has a pitch of its own. */
  readonly settled: (place?: number) => void;
  readonly tripped: () => void;
};

type Beep = { readonly hertz: number; readonly startSecond: number; readonly lengthSecond: number };

const SETTLED: readonly Beep[] = [
  { hertz: 880, startSecond: 0, lengthSecond: 0.09 },
  { hertz: 1320, startSecond: 0.1, lengthSecond: 0.14 },
];
const TRIPPED: readonly Beep[] = [
  { hertz: 220, startSecond: 0, lengthSecond: 0.3 },
  { hertz: 185, startSecond: 0.38, lengthSecond: 0.45 },
];
/** Between the needles of a cluster: a minor third up. */
const PITCH = 6 / 5;
const LOUDNESS = 0.2;
const FADE_SECOND = 0.02;
const MUTED_KEY = 'needlewright-muted';

/** Tones by the browser's own oscillator. A browser that allows no sound yet stays silent; nothing depends on it. */
export function createTones(storage: Storage): Tones {
  const isMuted = createSignal(storage.getItem(MUTED_KEY) === 'yes');
  let context: AudioContext | undefined;
  const play = (beeps: readonly Beep[]): void => {
    // Before the first touch or key a browser plays nothing and complains in its console.
    if (isMuted.get() || !navigator.userActivation.hasBeenActive) return;
    context ??= new AudioContext();
    void context.resume();
    for (const beep of beeps) sound(context, beep);
  };
  return {
    isMuted,
    setMuted: (muted) => {
      storage.setItem(MUTED_KEY, muted ? 'yes' : 'no');
      isMuted.set(muted);
    },
    settled: (place = 0) => play(SETTLED.map((beep) => ({ ...beep, hertz: beep.hertz * PITCH ** place }))),
    tripped: () => play(TRIPPED),
  };
}

function sound(context: AudioContext, beep: Beep): void {
  const start = context.currentTime + beep.startSecond;
  const end = start + beep.lengthSecond;
  const oscillator = context.createOscillator();
  const gain = context.createGain();
  oscillator.frequency.value = beep.hertz;
  gain.gain.setValueAtTime(0, start);
  gain.gain.linearRampToValueAtTime(LOUDNESS, start + FADE_SECOND);
  gain.gain.setValueAtTime(LOUDNESS, end - FADE_SECOND);
  gain.gain.linearRampToValueAtTime(0, end);
  oscillator.connect(gain).connect(context.destination);
  oscillator.start(start);
  oscillator.stop(end);
}
