import type { BoxLink, LinkEvent } from '../../host/link';

/** Waits for an event of a link; rejects with what was heard instead when it does not come. */
export function nextEvent<Kind extends LinkEvent['kind']>(
  link: BoxLink,
  kind: Kind,
  isWanted: (event: Extract<LinkEvent, { kind: Kind }>) => boolean = () => true,
): Promise<Extract<LinkEvent, { kind: Kind }>> {
  const heard: string[] = [];
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => {
      end();
      reject(new Error(`no ${kind} in a minute; heard ${heard.slice(-12).join(', ')}`));
    }, 60_000);
    const end = link.subscribe((event) => {
      heard.push(event.kind === 'state' ? `${event.state} ${event.reason?.message ?? ''}` : event.kind);
      if (!isOfKind(event, kind) || !isWanted(event)) return;
      clearTimeout(timer);
      end();
      resolve(event);
    });
  });
}

const isOfKind = <Kind extends LinkEvent['kind']>(
  event: LinkEvent,
  kind: Kind,
): event is Extract<LinkEvent, { kind: Kind }> => event.kind === kind;

export async function untilLive(link: BoxLink): Promise<void> {
  if (link.state !== 'live') await nextEvent(link, 'state', ({ state }) => state === 'live');
}
