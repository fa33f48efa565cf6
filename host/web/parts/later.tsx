import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Note } from './note';

type View<Props> = (props: Props) => JSX.Element | null;
type Loaded<Props> = { readonly view: View<Props> | undefined; readonly isLost: boolean };

const loads = new Set<() => Promise<unknown>>();

/** Fetches every view that comes later, once the first one is drawn: nobody waits for them at the car. */
export const fetchTheRest = (): void => {
  for (const load of loads) void load().catch(() => undefined);
};

/**
 * A view whose script is fetched apart from the first one, so that the first is small on a phone. One that cannot be
 * fetched (the host is gone, or is a newer one) says so in its place.
 */
export function later<Props extends object>(load: () => Promise<View<Props>>): View<Props> {
  let known: View<Props> | undefined;
  const fetched = async (): Promise<View<Props>> => (known ??= await load());
  loads.add(fetched);
  return function Later(props: Props): JSX.Element | null {
    const [{ view, isLost }, setLoaded] = useState<Loaded<Props>>({ view: known, isLost: false });
    useEffect(() => {
      if (view !== undefined) return;
      fetched().then(
        (found) => setLoaded({ view: found, isLost: false }),
        () => setLoaded({ view: undefined, isLost: true }),
      );
    }, [view]);
    if (view !== undefined) {
      const Found = view;
      return <Found {...props} />;
    }
    if (!isLost) return null;
    return (
      <Note kind="wrong">
        <p>The host did not send this part of the page. Reload the page; what was entered is kept.</p>
      </Note>
    );
  };
}
