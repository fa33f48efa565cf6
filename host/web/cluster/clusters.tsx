import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { BatchRow, BatchTable } from '../../job/wire/cluster-messages';
import type { App } from '../app';
import { batchTable } from '../connection/http';
import { Note } from '../parts/note';
import { TableBox } from '../parts/table-box';
import { batchCsv } from './csv';

/** The batch: every cluster with the worst of each gauge, as found and as left. */
export function Clusters({ app }: { readonly app: App }): JSX.Element {
  const [table, setTable] = useState<BatchTable | undefined>(undefined);
  useEffect(() => {
    void batchTable().then((answer) => {
      if (answer.kind === 'answer') setTable(answer.body);
      else app.trouble.set(answer);
    });
  }, [app]);
  return (
    <section class="station stack" aria-label="Clusters">
      <div class="plate-at-thumb">
        <a class="button button-main" href="#/clusters/new">
          Begin a cluster
        </a>
      </div>
      {table === undefined ? <p class="soft">Looking for clusters.</p> : <Batch table={table} />}
    </section>
  );
}

function Batch({ table }: { readonly table: BatchTable }): JSX.Element {
  const { rows, unreadable } = table;
  return (
    <>
      {unreadable.map((why) => (
        <Note key={why} kind="wrong">
          <p>{why}</p>
        </Note>
      ))}
      {rows.length === 0 ? (
        <p>No cluster yet. One begins with its gauges; the next of the same kind takes one tap.</p>
      ) : (
        <>
          <TableBox label="Every cluster, a row a gauge">
            <table>
              <caption>How far the ohms at the ends of each gauge are off its family</caption>
              <thead>
                <tr>
                  <th scope="col">Cluster</th>
                  <th scope="col">Opened</th>
                  <th scope="col">Place</th>
                  <th scope="col" class="number">
                    As found
                  </th>
                  <th scope="col" class="number">
                    As left
                  </th>
                  <th scope="col" class="number">
                    Minutes
                  </th>
                  <th scope="col">Done</th>
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <Row key={row.jobId} row={row} />
                ))}
              </tbody>
            </table>
          </TableBox>
          <p>
            <a
              download="clusters.csv"
              href={`data:text/csv;charset=utf-8,${encodeURIComponent(batchCsv(table))}`}
            >
              The table as CSV
            </a>
          </p>
        </>
      )}
    </>
  );
}

const DAY_LETTERS = 10;
const percent = (value: number | undefined): string =>
  value === undefined ? 'not known' : `${value.toFixed(1)} %`;

const Row = ({ row }: { readonly row: BatchRow }): JSX.Element => (
  <tr>
    <td>
      <a class="row-link" href={`#/cluster/${encodeURIComponent(row.clusterId)}`}>
        {row.vehicle}
      </a>
      {row.simulated ? ' SIMULATED' : ''}
    </td>
    <td>{row.openedAt.slice(0, DAY_LETTERS)}</td>
    <td>{row.place}</td>
    <td class="number">{percent(row.foundPercent)}</td>
    <td class="number">{percent(row.leftPercent)}</td>
    <td class="number">{row.minutes === undefined ? '\u2013' : row.minutes.toFixed(1)}</td>
    <td>{row.done}</td>
  </tr>
);
