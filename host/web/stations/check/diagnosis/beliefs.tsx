import type { JSX } from 'preact';
import type { DiagnosisFinding } from '../../../../job/findings';
import { capital } from '../../../../words/sentence';
import { Fold } from '../../../parts/fold';

const LENGTH = 100;

/** What is believed so far: a word and a bar for each part, never a figure; why stands behind a fold. */
export const Beliefs = ({ finding }: { readonly finding: DiagnosisFinding }): JSX.Element => (
  <section class="stack">
    <h3>So far</h3>
    <ul class="beliefs">
      {finding.suspects.map(({ words, belief, length }) => (
        <li key={words}>
          <span>{capital(words)}</span>
          <span class="soft">{belief}</span>
          <svg viewBox={`0 0 ${LENGTH} 4`} preserveAspectRatio="none" aria-hidden="true">
            <rect class="belief-all" width={LENGTH} height="4" />
            <rect class="belief" width={LENGTH * length} height="4" />
          </svg>
        </li>
      ))}
    </ul>
    {finding.evidence.length === 0 ? null : (
      <Fold line="Why" says={finding.evidence[0]}>
        <ul>
          {finding.evidence.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </Fold>
    )}
  </section>
);
