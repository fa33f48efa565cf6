import { afterEach, describe, expect, it } from 'vitest';
import { faults, hasCapability, jobKinds, limits, states } from '../../protocol';
import { contactsFor, ladderFromRows, type LadderRow } from '../../host/core/ladder';
import {
  keepLink,
  openLink,
  portFinder,
  serialSource,
  simulatedBox,
  type BoxLink,
  type ByteSource,
} from '../../host/link';
import { nextEvent, untilLive } from '../support/link-events';
import { hasSocat, plugCable, type Cable } from '../support/pty';
import { simulatedProgram } from '../support/simulated-program';

const GAUGE = 'thermal-temperature';
const LEASE_MS = 1_200;

type Bench = { readonly source: ByteSource; readonly end: () => Promise<void> };

const program = async (): Promise<Bench> => {
  const box = simulatedBox({ gauge: GAUGE, seed: 4, programPath: simulatedProgram() });
  return Promise.resolve({ source: box.source, end: () => box.stop() });
};

const pseudoTerminal = async (): Promise<Bench> => {
  const cable = await plugCable(`${process.execPath} ${simulatedProgram()} --gauge ${GAUGE} --seed 4`);
  return { source: serialSource(cable.path), end: () => cable.unplug() };
};

const benches: readonly (readonly [string, () => Promise<Bench>])[] = [
  ['a child program', program],
  ...(hasSocat() ? ([['a pseudo-terminal and the serial library', pseudoTerminal]] as const) : []),
];

const ends: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

async function liveLink(
  make: () => Promise<Bench>,
  options: Parameters<typeof openLink>[1] = {},
): Promise<BoxLink> {
  const bench = await make();
  ends.push(bench.end);
  const link = openLink(bench.source, options);
  ends.push(() => link.close());
  await untilLive(link);
  return link;
}

async function arm(link: BoxLink): Promise<void> {
  const own = await link.request('jobLimits', { channel: 0, jobKind: jobKinds.thermal });
  if (own.kind !== 'answer') throw new Error(own.message);
  const armed = await link.request('arm', {
    channel: 0,
    jobKind: jobKinds.thermal,
    currentLimitMilliamp: own.fields.currentLimitMilliamp,
    elementPowerLimitMilliwatt: own.fields.elementPowerLimitMilliwatt,
    totalPowerLimitMilliwatt: own.fields.totalPowerLimitMilliwatt,
    supplyLimitMillivolt: own.fields.supplyLimitMillivolt,
    floorMilliohm: own.fields.floorMilliohm,
    floorTimeMs: own.fields.floorTimeMs,
    originalLeastMilliohm: 0,
    leaseMs: LEASE_MS,
  });
  expect(armed).toMatchObject({ kind: 'answer', fields: { state: states.armed } });
}

/** A resistance that no gauge minds, with the contacts found from the box's own element table as the bench does. */
const HARMLESS_OHM = 2000;

async function drive(link: BoxLink): Promise<void> {
  const rows: LadderRow[] = [];
  // Elements, limiter, residual.
  for (let index = 0; index < (link.greeting?.elementCount ?? 0) + 2; index += 1) {
    const row = await link.request('element', { index });
    if (row.kind !== 'answer') throw new Error(row.message);
    rows.push(row.fields);
  }
  const table = ladderFromRows(rows);
  const setting = table.kind === 'refused' ? table : contactsFor(table.ladder, HARMLESS_OHM);
  if (setting.kind === 'refused') throw new Error(setting.code);
  const { contactMask, complementMask, madeMilliohm } = setting;
  const asked = {
    channel: 0,
    contactMask,
    complementMask,
    resistanceMilliohm: madeMilliohm,
    leaseMs: LEASE_MS,
  };
  const made = await link.request('set', asked);
  expect(made, JSON.stringify(made)).toMatchObject({ kind: 'answer', fields: { contactMask } });
}

describe.each(benches)('host and firmware in two processes over %s', (_, make) => {
  it('greet each other: a simulated box says that it is one', async () => {
    const link = await liveLink(make);
    expect(link.greeting && hasCapability(link.greeting.capabilities, 'simulated')).toBe(true);
    expect(link.greeting?.deadManMaxMs).toBe(limits.deadManMs.max);
  });

  // A machine that stands still for longer than the lease trips the box, rightly: then it is tried again.
  it('drive a resistance and keep it while heartbeats pass, longer than the lease', async () => {
    const link = await liveLink(make);
    const heldMs = async (): Promise<number> => {
      await arm(link);
      await drive(link);
      let firstMs: number | undefined;
      const { fields } = await nextEvent(link, 'heartbeat', ({ fields: { boxMs, state } }) => {
        firstMs ??= boxMs;
        return state !== states.driving || boxMs - firstMs > 2 * LEASE_MS;
      });
      if (fields.state === states.driving) return fields.boxMs - (firstMs ?? fields.boxMs);
      expect(fields.faultCode).toBe(faults.DEAD_MAN.number);
      await link.request('clear', { channel: 0, faultCode: fields.faultCode });
      return 0;
    };
    let held = 0;
    for (let attempt = 0; attempt < 10 && held === 0; attempt += 1) held = await heldMs();
    expect(held).toBeGreaterThan(2 * LEASE_MS);
    expect(await link.request('open', { channel: 0 })).toMatchObject({ fields: { state: states.safe } });
  });

  it('the box trips by its dead-man time when heartbeats stop, and tells it once the host speaks again', async () => {
    const link = await liveLink(make, { heartbeatMs: 60_000 });
    await arm(link);
    // Listened for from here on: on a busy machine the trip is on the line together with the answer to the set.
    const tripped = nextEvent(link, 'tripped');
    await drive(link);
    const { fields } = await tripped;
    expect(fields.faultCode).toBe(faults.DEAD_MAN.number);
    expect(fields.limit).toBe(LEASE_MS);
    const cleared = await link.request('clear', { channel: 0, faultCode: fields.faultCode });
    expect(cleared).toMatchObject({ kind: 'answer', fields: { state: states.safe } });
  });

  it('a set whose mask and complement disagree does nothing and is refused in words', async () => {
    const link = await liveLink(make);
    await arm(link);
    const garbled = {
      channel: 0,
      contactMask: 1,
      complementMask: 1,
      resistanceMilliohm: 1000,
      leaseMs: LEASE_MS,
    };
    expect(await link.request('set', garbled)).toMatchObject({ kind: 'refused', code: 'COMPLEMENT' });
    expect(await link.request('open', { channel: 0 })).toMatchObject({ fields: { state: states.safe } });
  });

  it('meet again on a second connection with a fresh greeting', async () => {
    const bench = await make();
    ends.push(bench.end);
    const nonces: number[] = [];
    for (let round = 0; round < 2; round += 1) {
      const link = openLink(bench.source);
      await untilLive(link);
      nonces.push(link.greeting?.bootNonce ?? -1);
      await link.close();
    }
    expect(nonces[1]).toBe(nonces[0]);
  });
});

describe.runIf(hasSocat())('a cable that is pulled out', () => {
  const command = `${process.execPath} ${simulatedProgram()} --gauge ${GAUGE} --seed 4`;
  const kept = async (): Promise<{ cable: Cable; link: BoxLink }> => {
    const cable = await plugCable(command);
    ends.push(() => cable.unplug());
    const link = keepLink(portFinder(cable.path), { retryFirstMs: 50, retryMaxMs: 200 });
    ends.push(() => link.close());
    await untilLive(link);
    return { cable, link };
  };

  it('while driving: the host says so within a second, and comes back on a new port object after a replug', async () => {
    const { cable, link } = await kept();
    await arm(link);
    await drive(link);
    const before = link.greeting?.bootNonce;
    const lost = nextEvent(link, 'state', ({ state }) => state === 'failed' || state === 'silent');
    await cable.unplug();
    const { reason } = await lost;
    expect(['LINK_UNPLUGGED', 'LINK_SILENT']).toContain(reason?.code);
    expect(await link.request('open', { channel: 0 })).toMatchObject({ kind: 'link-failed' });
    const restarted = nextEvent(link, 'restarted');
    await cable.plug();
    expect((await restarted).greeting.bootNonce).not.toBe(before);
    await untilLive(link);
    const { fields } = await nextEvent(link, 'heartbeat');
    expect(fields.state).toBe(states.safe);
  });

  it('while requests stream through it: none hangs, nothing of them is sent again after the replug', async () => {
    const { cable, link } = await kept();
    const sent: string[] = [];
    link.subscribe((event) => {
      if (event.kind === 'frame' && event.direction === 'out') sent.push(event.name);
    });
    const asked = Array.from({ length: 200 }, (_, index) => link.request('element', { index: index % 13 }));
    const lost = nextEvent(link, 'state', ({ state }) => state === 'failed' || state === 'silent');
    await cable.unplug();
    await lost;
    const results = await Promise.all(asked);
    expect(results.every(({ kind }) => kind === 'answer' || kind === 'link-failed')).toBe(true);
    const before = sent.filter((name) => name === 'element').length;
    const isLive = nextEvent(link, 'state', ({ state }) => state === 'live');
    await cable.plug();
    await isLive;
    await nextEvent(link, 'heartbeat');
    expect(sent.filter((name) => name === 'element')).toHaveLength(before);
  });
});

describe.runIf(hasSocat())('a port that cannot serve', () => {
  const stateOf = async (source: ByteSource): Promise<string> => {
    const link = openLink(source, { greetingMs: 500 });
    await nextEvent(link, 'state', ({ state }) => state === 'failed');
    await link.close();
    return `${link.problem?.code}: ${link.problem?.message}`;
  };

  it('is told as missing when there is no such path', async () => {
    expect(await stateOf(serialSource('/dev/needlewright-is-not-there'))).toContain(
      'LINK_NO_SUCH_PORT: there is no port',
    );
  });

  it('is told as no serial port when it is a plain device', async () => {
    // Where the system tells what it is, it is not even opened.
    expect(await stateOf(serialSource('/dev/null'))).toMatch(
      /LINK_NOT_SERIAL: \/dev\/null is no serial device|LINK_PORT_ERROR: \/dev\/null could not be used/,
    );
  });

  it('is told as busy while another program holds it', async () => {
    const cable = await plugCable('cat');
    ends.push(() => cable.unplug());
    const holder = openLink(serialSource(cable.path), { greetingMs: 5000 });
    ends.push(() => holder.close());
    await nextEvent(holder, 'state', ({ state }) => state === 'greeting');
    expect(await stateOf(serialSource(cable.path))).toContain('LINK_PORT_BUSY');
  });

  it('is told as another device when it only echoes what is sent', async () => {
    const cable = await plugCable('cat');
    ends.push(() => cable.unplug());
    expect(await stateOf(serialSource(cable.path))).toContain('LINK_NOT_OUR_BOX');
  });
});
