import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { ClusterConnection, StopAllNews } from '../connection/cluster-connection';
import { byHand } from '../connection/lost-contact';
import { Icon } from '../parts/icon';
import { Note } from '../parts/note';
import { useSignal } from '../signal';

const COUNTED = ['', 'one', 'two', 'three', 'four'];
const counted = (count: number): string => COUNTED[count] ?? String(count);

/** One stop for all of them; on every view while any output is, or may be, live. */
export function StopAll({ cluster }: { readonly cluster: ClusterConnection }): JSX.Element | null {
  const { liveCount } = useSignal(cluster.now);
  const frame = useSignal(cluster.live);
  const connection = useSignal(cluster.connection);
  const news = useSignal(cluster.stopNews);
  const isLost = connection === 'lost';
  const isNeeded = liveCount > 0 || isLost || (frame !== undefined && frame.doing.kind !== 'nothing');
  useEffect(() => {
    if (!isNeeded) return undefined;
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') cluster.stop();
    };
    window.addEventListener('keydown', onKeyDown, true);
    return () => window.removeEventListener('keydown', onKeyDown, true);
  }, [cluster, isNeeded]);
  if (!isNeeded) return null;
  const count = cluster.jobs.get().length;
  return (
    <div class="stop-bar">
      {isLost ? (
        <div class="unreachable" role="alert">
          <strong>This page cannot reach the host.</strong> <strong>{byHand('bench')}</strong> If the host has
          stopped, every box opens its output by itself within seconds.
        </div>
      ) : null}
      <button type="button" class="stop" onClick={cluster.stop}>
        <span class="stop-words">
          <Icon of="stop" />
          {stopWords(news, count, isLost)}
        </span>
        <small>Escape does the same. Each box confirms it here.</small>
      </button>
    </div>
  );
}

function stopWords(news: StopAllNews | undefined, count: number, isLost: boolean): string {
  if (news?.kind === 'sent') return 'STOP sent: waiting for the boxes';
  if (news?.kind === 'unsent' || isLost) return 'STOP: as soon as the host answers';
  return count < 2 ? 'STOP: open the output' : `STOP: open all ${counted(count)}`;
}

/** What the boxes answered: open only when each has said so, and the silent one by its number and its place. */
export function Stopped({ cluster }: { readonly cluster: ClusterConnection }): JSX.Element | null {
  const news = useSignal(cluster.stopNews);
  const state = useSignal(cluster.state);
  if (news?.kind !== 'answered' || news.outcome === 'no-box') return null;
  const silent = news.boxes.filter(({ outcome }) => outcome !== 'box-confirmed-open');
  if (news.outcome === 'box-confirmed-open')
    return (
      <Note kind="good" word="Stopped">
        <p>
          {news.boxes.length > 1
            ? `All ${counted(news.boxes.length)} boxes confirmed it: every output is open.`
            : 'The box confirmed it: its output is open.'}
        </p>
      </Note>
    );
  const placeOf = (serial: number | undefined): string =>
    state?.gauges.find(({ boxSerial }) => boxSerial !== undefined && boxSerial === serial)?.place ?? '';
  return (
    <Note kind="wrong" word="Silent">
      {silent.map(({ boxSerial }) => (
        <p key={boxSerial}>
          <strong>
            Box {boxSerial ?? 'without a number'}
            {placeOf(boxSerial) === '' ? '' : `, ${placeOf(boxSerial)},`} did not answer.
          </strong>
        </p>
      ))}
      <p>
        The others are open. It opens its output by itself within seconds. <strong>{byHand('bench')}</strong>
      </p>
    </Note>
  );
}
