import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { ConditionMark, GaugeCondition } from '../../job/state/cluster-sheet';
import type { ClusterSheet } from '../../job/wire/cluster-messages';
import type { App } from '../app';
import type { ClusterConnection } from '../connection/cluster-connection';
import { clusterSheet } from '../connection/http';
import type { JobConnection } from '../connection/job-connection';
import { Note } from '../parts/note';
import { TableBox } from '../parts/table-box';
import { markWords, sureOhm } from '../parts/words';
import { useSignal } from '../signal';
import { Adjusted } from '../stations/sweep/adjusted';
import { gaugeName } from './gauge-words';

type Fetched = ClusterSheet | { readonly kind: 'refused'; readonly message: string } | undefined;

/** What was found and left, reckoned by the host; asked anew whenever a sweep of theirs ends. */
function useSheet(cluster: ClusterConnection): Fetched {
  const [sheet, setSheet] = useState<Fetched>(undefined);
  const state = useSignal(cluster.state);
  const jobs = useSignal(cluster.jobs);
  const entered = jobs.reduce((sum, job) => sum + job.events.get().length, 0);
  useEffect(() => {
    let isWanted = true;
    void clusterSheet(cluster.clusterId).then((answer) => {
      if (isWanted) setSheet(answer.kind === 'answer' ? answer.body : answer);
    });
    return () => {
      isWanted = false;
    };
  }, [cluster, state?.swept.length, entered]);
  return sheet;
}

/** As found and as left of every gauge: both columns always, "not measured" where so. */
type ConditionsProps = { readonly app: App; readonly cluster: ClusterConnection };

export function Conditions({ app, cluster }: ConditionsProps): JSX.Element {
  const sheet = useSheet(cluster);
  const jobs = useSignal(cluster.jobs);
  if (sheet === undefined) return <p class="soft">Reckoning the curves.</p>;
  if ('kind' in sheet)
    return (
      <Note kind="wrong">
        <p>{sheet.message}</p>
      </Note>
    );
  return (
    <div class="conditions">
      {jobs.map((job) => (
        <GaugeRows
          key={job.jobId}
          job={job}
          onLeave={() => app.inHand.cameFrom(job.jobId, cluster.clusterId)}
          row={sheet.gauges.find(({ jobId }) => jobId === job.jobId)}
        />
      ))}
    </div>
  );
}

function GaugeRows(props: {
  readonly job: JobConnection;
  readonly row: ClusterSheet['gauges'][number] | undefined;
  readonly onLeave: () => void;
}): JSX.Element | null {
  const { job, row, onLeave } = props;
  const state = useSignal(job.state);
  if (state === undefined) return null;
  const name = gaugeName(state, job.place ?? '');
  return (
    <div>
      <TableBox label={`As found and as left: ${name}`}>
        <table>
          <caption>
            {name[0]?.toUpperCase()}
            {name.slice(1)}: {'\u03a9'} at each mark, {'\u00b1'} at 95 %
          </caption>
          <thead>
            <tr>
              <th scope="col" class="number">
                Mark
              </th>
              <th scope="col" class="number">
                As found
              </th>
              <th scope="col" class="number">
                As left
              </th>
            </tr>
          </thead>
          <tbody>
            {state.gauge.marks.map(({ reading }) => (
              <tr key={reading}>
                <td class="number">{markWords(reading, state.gauge)}</td>
                <td class="number">{ohmsAt(row?.found, reading)}</td>
                <td class="number">{ohmsAt(row?.left, reading)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
      <p class="hint">
        Between the two: {row === undefined || row.done === '' ? 'nothing noted' : row.done}.{' '}
        <a class="screen-only" href={`#/job/${encodeURIComponent(job.jobId)}`} onClick={onLeave}>
          Its own sheet
        </a>
      </p>
      {row?.found === undefined ? null : (
        <div class="screen-only">
          <Adjusted state={state} send={(command) => void job.send(command)} />
        </div>
      )}
    </div>
  );
}

function ohmsAt(condition: GaugeCondition | undefined, reading: number): string {
  const mark: ConditionMark | undefined = condition?.marks.find((each) => each.reading === reading);
  if (mark === undefined) return 'not measured';
  return sureOhm(mark.resistanceOhm, mark.expandedUncertaintyOhm).join(' ');
}
