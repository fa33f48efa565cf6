import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { App } from '../app';
import { deviceWord } from '../connection/this-device';
import { useSignal } from '../signal';
import { askToPair } from '../connection/http';
import { Note } from '../parts/note';
import { StopEverything } from '../parts/stop-everything';
import { TextField } from '../parts/text-field';

/** What a device sees before the person at the host has let it in. */
export function Pair({ app }: { readonly app: App }): JSX.Element {
  const route = useSignal(app.route);
  const [token, setToken] = useState(route.kind === 'pair' ? route.token : undefined);
  const [code, setCode] = useState('');
  const [name, setName] = useState(deviceWord);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const isWhole = name.trim() !== '' && (token !== undefined || /^\d{6}$/.test(code));
  const pair = async (): Promise<void> => {
    const answer = await askToPair(token === undefined ? { code, name } : { token, name });
    if (answer.kind === 'refused') {
      setTrouble(answer.message);
      if (answer.code !== 'PAIRING_PAUSED') setToken(undefined);
      return;
    }
    if (route.kind === 'pair') location.hash = '#/';
    else await app.refresh();
  };
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault();
        if (isWhole) void pair();
      }}
    >
      <p>
        This device is new to the host. On the computer the box is plugged into, open the job sheet, choose
        &ldquo;Devices&rdquo; and let a device in.
      </p>
      {trouble === undefined ? null : (
        <Note kind="wrong">
          <p>{trouble}</p>
        </Note>
      )}
      <div class="fields">
        {token === undefined ? <CodeField code={code} onCode={setCode} /> : null}
        <TextField
          label="What is this device called?"
          text={name}
          onText={setName}
          hint="What happened is signed with this name."
        />
      </div>
      <div>
        <button type="submit" class="button button-main" disabled={!isWhole}>
          Pair this device
        </button>
      </div>
      <StopEverything />
    </form>
  );
}

function CodeField(props: { readonly code: string; readonly onCode: (code: string) => void }): JSX.Element {
  return (
    <div class="field">
      <label for="pair-code">Code on the host&rsquo;s screen</label>
      <input
        id="pair-code"
        class="figure"
        inputMode="numeric"
        autoComplete="one-time-code"
        maxLength={7}
        value={props.code}
        onInput={(event) => props.onCode(event.currentTarget.value.replace(/\D/g, ''))}
      />
    </div>
  );
}
