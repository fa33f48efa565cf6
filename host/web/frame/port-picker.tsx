import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { PortListing } from '../../job/wire/host-messages';
import type { App } from '../app';
import { portListing } from '../connection/http';

/** The serial ports of the host, likely ones first. */
export function PortPicker({ app }: { readonly app: App }): JSX.Element {
  const [listing, setListing] = useState<PortListing | undefined>(undefined);
  const look = async (): Promise<void> => {
    const answer = await portListing();
    if (answer.kind === 'answer') setListing(answer.body);
    else app.trouble.set(answer);
  };
  useEffect(() => void look(), []);
  return (
    <>
      {listing?.ports.map((port) => (
        <button
          key={port.path}
          type="button"
          class="button"
          onClick={() => void app.useBox({ kind: 'port', path: port.path })}
        >
          Use {port.title}
        </button>
      ))}
      {listing !== undefined && listing.ports.length === 0 ? <span>No serial port found.</span> : null}
      <button type="button" class="button button-plain" onClick={() => void look()}>
        Look again
      </button>
    </>
  );
}
