import { parentPort } from 'node:worker_threads';
import { answerFromCatalogue } from '../../store/catalogue';
import type { CatalogueThreadQuestion } from './catalogue-desk';

// A fit takes a tenth of a second and a file that others write to is waited for: neither may hold up the heartbeats.
parentPort?.on(
  'message',
  ({ id, task }: CatalogueThreadQuestion) =>
    void answerFromCatalogue(task).then((answer) => parentPort?.postMessage({ id, answer })),
);
