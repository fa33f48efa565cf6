import { recordFonts } from './files/fonts';
import { pdfOf, type Paper } from './files/pdf';
import { clusterSheets, type ClusterRecord } from './sheets/cluster-sheets';

export type { ClusterRecord } from './sheets/cluster-sheets';

/** The sheet of a cluster as PDF: the same cluster and jobs give the same bytes. */
export function clusterPdf(record: ClusterRecord, paper: Paper, program: string): Promise<Uint8Array> {
  const { state, gauges } = record;
  const fonts = recordFonts();
  const lastAt = [state.openedAt, ...gauges.map(({ job }) => job.lastAt)].sort().at(-1) ?? state.openedAt;
  return pdfOf(
    clusterSheets(fonts, record),
    fonts,
    {
      title: `${state.simulated ? 'SIMULATED ' : ''}Cluster ${state.clusterId}`,
      subject: `${state.title}, ${state.vehicle}`,
      keywords: gauges.map(({ job }) => job.jobId).join(' '),
      at: new Date(lastAt),
      producer: `Needlewright ${program}`,
    },
    paper,
  );
}
