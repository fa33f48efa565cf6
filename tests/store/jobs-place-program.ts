import { jobsPlace } from '../../host/store';

/** As a program of its own: says in one line of JSON whether jobs can be kept in the folder on its command line. */
console.log(JSON.stringify(await jobsPlace(process.argv[2] ?? '')));
