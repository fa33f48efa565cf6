import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { FoundInCatalogue } from '../../job/wire/catalogue-messages';
import { demoWords } from '../../words/catalogue';
import { removeDemoCatalogue, takeDemoCatalogue } from '../connection/http';

type DemoProps = { readonly found: FoundInCatalogue; readonly onDone: () => void };

/** An empty catalogue says nothing: with one tap an invented shop's stands in, and with one it is gone again. */
export function Demo({ found, onDone }: DemoProps): JSX.Element | null {
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const { holds, demo } = found;
  const isEmpty = holds.gauges + holds.senders === 0;
  if (demo === 0 && !isEmpty) return null;
  const act = async (): Promise<void> => {
    const done = await (demo > 0 ? removeDemoCatalogue() : takeDemoCatalogue());
    setTrouble(done.kind === 'refused' ? done.message : undefined);
    if (done.kind === 'answer') onDone();
  };
  return (
    <div>
      <button type="button" class="button" onClick={() => void act()}>
        {demo > 0 ? 'Take the invented shop out' : <>Try it with an invented shop&rsquo;s catalogue</>}
      </button>
      <p class="hint">
        {demo > 0
          ? demoWords(demo)
          : 'Its cards are marked DEMO. They stay on this machine, apart from your own.'}
      </p>
      {trouble === undefined ? null : <p class="wrong">{trouble}</p>}
    </div>
  );
}
