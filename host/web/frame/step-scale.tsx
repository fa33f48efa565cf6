import type { JSX } from 'preact';
import type { LiveFrame } from '../../job/wire/job-messages';

/** While a sweep runs: which step, which way the needle goes, how long yet; in place of the stations. */
export function StepScale({ frame }: { readonly frame: LiveFrame }): JSX.Element | null {
  if (frame.progress === undefined) return null;
  const { done, total, minutesLeft } = frame.progress;
  const now = Math.min(done + 1, total);
  return (
    <div class="wrap steps">
      <p class="steps-line">
        <span>
          Step <b>{now}</b> of {total}
        </span>
        {frame.step === undefined ? null : (
          <span class="dim">{frame.step.leg === 'up' ? 'needle rising' : 'needle falling'}</span>
        )}
        <span class="push">{minutesLeft < 1 ? 'under 1' : Math.ceil(minutesLeft)} min left</span>
      </p>
      <svg class="steps-scale" viewBox={`0 0 ${total} 9`} preserveAspectRatio="none" aria-hidden="true">
        {Array.from({ length: total + 1 }, (_, step) => (
          <path key={step} class="steps-mark" d={`M${step} 0V9`} />
        ))}
        <path class="steps-line-base" d={`M0 1H${total}`} />
        <path class="steps-done" d={`M0 2H${now}`} />
      </svg>
    </div>
  );
}
