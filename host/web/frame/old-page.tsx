import { Component, type ComponentChildren, type JSX } from 'preact';
import type { App } from '../app';
import { useSignal } from '../signal';
import { Note } from '../parts/note';

const ReloadButton = (): JSX.Element => (
  <div>
    <button type="button" class="button" onClick={() => location.reload()}>
      Reload this page
    </button>
  </div>
);

/** Page and host are two builds. What this page knows goes on; STOP works. */
export function OldPage({ app }: { readonly app: App }): JSX.Element | null {
  if (!useSignal(app.isOld)) return null;
  return (
    <Note kind="wrong" word="This page does not belong to its host">
      <p>
        The host was updated. Reload this page; nothing that was confirmed is lost. STOP works before, too. If
        this stays after a reload, start the host again.
      </p>
      <ReloadButton />
    </Note>
  );
}

type Shown = { readonly hasFailed: boolean };

/** What cannot be drawn is said, in the place of the part that could not be drawn; everything around it stays. */
export class Boundary extends Component<{ readonly children: ComponentChildren }, Shown> {
  override state: Shown = { hasFailed: false };

  override componentDidCatch(error: unknown): void {
    // Told to the browser's own list of errors, where whoever mends it looks.
    reportError(error);
    this.setState({ hasFailed: true });
  }

  override render(): ComponentChildren {
    if (!this.state.hasFailed) return this.props.children;
    return (
      <main class="wrap paper stack">
        <Note kind="wrong" word="This page cannot show the sheet">
          <p>The host says something this page cannot draw. Nothing is lost. STOP works all the same.</p>
          <ReloadButton />
        </Note>
      </main>
    );
  }
}
