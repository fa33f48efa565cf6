import type { JSX } from 'preact';
import type { Candidate, Offers } from '../../../core/network';
import { partWords } from '../../../words/network';
import { printed } from '../../../words/notation';
import { dialWords, feedWords, marketWords, offerTitles, wantedWords } from '../../../words/offers';

type Props = {
  readonly offers: Offers;
  readonly withoutRule: Candidate | undefined;
  readonly unit: string;
};

/** What else would do where no resistor helps enough: the sender to look for first, then the rest. */
export function OffersView({ offers, withoutRule, unit }: Props): JSX.Element {
  const { wanted, market, feed, dial } = offers;
  return (
    <section class="stack">
      <Offered title={offerTitles.wanted} lines={wanted.map((each) => wantedWords(each, unit, printed))} />
      <Offered title={offerTitles.market} lines={market.map((each) => marketWords(each, unit, printed))} />
      <Offered title={offerTitles.feed} lines={feed === undefined ? [] : [feedWords(feed, unit, printed)]} />
      <Offered title={offerTitles.dial} lines={dial.map((each) => dialWords(each, printed))} />
      {withoutRule === undefined ? null : (
        <details>
          <summary>The nearest network without the safety rule</summary>
          <p>
            {withoutRule.parts.map((part) => partWords(part, printed)).join(' and ') || 'No resistor'}: worst
            error {printed.spread(withoutRule.worstError, unit)}. It breaks the rule.
          </p>
        </details>
      )}
    </section>
  );
}

function Offered({
  title,
  lines,
}: {
  readonly title: string;
  readonly lines: readonly string[];
}): JSX.Element | null {
  if (lines.length === 0) return null;
  return (
    <div>
      <p>{title}</p>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}
