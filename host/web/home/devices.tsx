import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { DeviceListing, DeviceOrder, PairingView, Right } from '../../job/wire/host-messages';
import type { App } from '../app';
import { useSignal } from '../signal';
import { deviceListing, orderDevice, orderPairing, pairingNow, type Answer } from '../connection/http';
import { Choice } from '../parts/choice';
import { Note } from '../parts/note';

const RIGHTS = [
  { value: 'operate', words: 'Operate: drive the box, type readings' },
  { value: 'watch', words: 'Watch only' },
] as const;
const RIGHT_WORDS: Readonly<Record<Right, string>> = { operate: 'operates', watch: 'watches' };
const LOOK_EVERY_MS = 2_000;

type Device = DeviceListing['devices'][number];

/** At the host: who may come in over the local network, and what each may do. */
export function Devices({ app }: { readonly app: App }): JSX.Element {
  const greeting = useSignal(app.greeting);
  const [pairing, setPairing] = useState<PairingView | undefined>(undefined);
  const [devices, setDevices] = useState<readonly Device[]>([]);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const taken = <T,>(answer: Answer<T>, use: (body: T) => void): void => {
    setTrouble(answer.kind === 'refused' ? answer.message : undefined);
    if (answer.kind === 'answer') use(answer.body);
  };
  const useDevices = (listing: DeviceListing): void => setDevices(listing.devices);
  const look = async (): Promise<void> => {
    const [offer, listing] = await Promise.all([pairingNow(), deviceListing()]);
    taken(offer, setPairing);
    if (listing.kind === 'answer') useDevices(listing.body);
  };
  useEffect(() => {
    void look();
    const looking = setInterval(() => void look(), LOOK_EVERY_MS);
    return () => clearInterval(looking);
  }, []);
  if (greeting !== undefined && !greeting.isHost)
    return <p>Devices are let in at the host itself, on the page it opens under 127.0.0.1.</p>;
  return (
    <div class="stack">
      {trouble === undefined ? null : (
        <Note kind="wrong">
          <p>{trouble}</p>
        </Note>
      )}
      {greeting?.isLan === false ? (
        <p>
          This host serves its own machine only. Start it with <code>serve --lan</code> to let a phone or a
          tablet of the local network in.
        </p>
      ) : (
        <LetIn
          pairing={pairing}
          onOpen={async (right) => taken(await orderPairing({ kind: 'open', right }), setPairing)}
          onClose={async () => taken(await orderPairing({ kind: 'close' }), setPairing)}
        />
      )}
      <DeviceList
        devices={devices}
        onOrder={async (id, order) => taken(await orderDevice(id, order), useDevices)}
      />
      <p class="hint">
        A local network without encryption can be read by whoever shares it: use your own. This machine itself
        needs no pairing.
      </p>
    </div>
  );
}

function DeviceList(props: {
  readonly devices: readonly Device[];
  readonly onOrder: (id: string, order: DeviceOrder) => Promise<void>;
}): JSX.Element {
  return (
    <>
      <h2>Paired devices</h2>
      {props.devices.length === 0 ? <p class="soft">None.</p> : null}
      <ul class="devices">
        {props.devices.map((device) => (
          <DeviceRow key={device.id} device={device} onOrder={(order) => props.onOrder(device.id, order)} />
        ))}
      </ul>
    </>
  );
}

function LetIn(props: {
  readonly pairing: PairingView | undefined;
  readonly onOpen: (right: Right) => Promise<void>;
  readonly onClose: () => Promise<void>;
}): JSX.Element {
  const [right, setRight] = useState<Right>('operate');
  const { pairing } = props;
  if (pairing?.kind === 'open') return <Offer pairing={pairing} onClose={props.onClose} />;
  return (
    <div class="stack">
      <Choice label="What may the device do?" options={RIGHTS} chosen={right} onChoose={setRight} />
      <div>
        <button type="button" class="button button-main" onClick={() => void props.onOpen(right)}>
          Let a device in
        </button>
      </div>
    </div>
  );
}

type OpenView = Extract<PairingView, { kind: 'open' }>;

function Offer(props: { readonly pairing: OpenView; readonly onClose: () => Promise<void> }): JSX.Element {
  const { right, code, leftMs, pausedMs, places } = props.pairing;
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const place = places.find(({ address }) => address === chosen) ?? places[0];
  return (
    <div class="stack">
      <p>
        On the device open the address below, or scan the square with its camera. It {RIGHT_WORDS[right]}. One
        device, within {Math.ceil(leftMs / 60_000)} min.
      </p>
      {pausedMs > 0 ? (
        <Note kind="wrong">
          <p>Too many wrong codes: nobody is let in for {Math.ceil(pausedMs / 1000)} s. The code is new.</p>
        </Note>
      ) : null}
      <p class="pair-code figure" aria-label={`Code ${code.split('').join(' ')}`} role="img">
        {code.slice(0, 3)} {code.slice(3)}
      </p>
      {place === undefined ? (
        <Note kind="wrong">
          <p>
            This machine is on no network now. Join one, or open a hotspot; the address then appears here.
          </p>
        </Note>
      ) : (
        <>
          <p class="pair-address">{place.address}</p>
          <img
            class="pair-square"
            alt={`QR code of ${place.address} with a token for one device`}
            src={`data:image/svg+xml,${encodeURIComponent(place.qrSvg)}`}
          />
        </>
      )}
      {places.length > 1 ? (
        <Choice
          label="Not reached? Another address of this machine"
          options={places.map(({ address }) => ({ value: address, words: address }))}
          chosen={place?.address}
          onChoose={setChosen}
        />
      ) : null}
      <div>
        <button type="button" class="button" onClick={() => void props.onClose()}>
          Let nobody in
        </button>
      </div>
    </div>
  );
}

function DeviceRow(props: {
  readonly device: Device;
  readonly onOrder: (order: DeviceOrder) => Promise<void>;
}): JSX.Element {
  const { name, right, expiresAt } = props.device;
  const other = right === 'operate' ? 'watch' : 'operate';
  return (
    <li class="device">
      <strong>{name}</strong>
      <span class="soft">
        {RIGHT_WORDS[right]}, until {expiresAt.slice(0, 10)}
      </span>
      <div class="row">
        <button
          type="button"
          class="button"
          onClick={() => void props.onOrder({ kind: 'right', right: other })}
        >
          {other === 'watch' ? 'Watch only' : 'Let it operate'}
          <span class="unseen">: {name}</span>
        </button>
        <button type="button" class="button" onClick={() => void props.onOrder({ kind: 'remove' })}>
          Remove<span class="unseen">: {name}</span>
        </button>
      </div>
    </li>
  );
}
