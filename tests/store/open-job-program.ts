import { openJournal } from '../../host/store';

/** As a program of its own: opens the job named on its command line and says in one line of JSON how that went. */
const opened = await openJournal(process.argv[2] ?? '', () => new Date().toISOString());
const told =
  opened.kind === 'refused'
    ? { code: opened.code, message: opened.message }
    : { events: opened.events.length, ...opened.trouble };
if (opened.kind === 'open-journal') {
  const added = await opened.append([{ kind: 'note', text: 'a' }], 'other');
  await opened.close();
  console.log(JSON.stringify({ ...told, append: added.kind }));
} else console.log(JSON.stringify(told));
