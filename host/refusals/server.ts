const AT_HOST = 'At the host, open the page under 127.0.0.1.';

/** Refusals of the server: who asks, from where, how often, and what it cannot do for anybody. */
export const serverRefusals = {
  BAD_REQUEST: { status: 422, says: ({ why }: { readonly why: string }) => why, remedy: '' },
  REQUEST_FAILED: {
    status: 500,
    says: ({ why }: { readonly why?: string }) => why ?? 'The host could not do this; its work goes on.',
    remedy: '',
  },
  NOT_FOUND: {
    status: 404,
    says: ({ isJob }: { readonly isJob: boolean }) =>
      isJob
        ? 'There is no job of this name: a job id is the name of its folder.'
        : 'There is nothing under this address.',
    remedy: '',
  },
  UNKNOWN_CALLER: {
    status: 403,
    says: ({ by }: { readonly by: 'name' | 'page' }) =>
      by === 'name'
        ? 'This host answers only to its own name or address, with its own port. Open the address that "serve" prints.'
        : 'This request comes from a page of another address or port. Only the page of this host may ask this host.',
    remedy: '',
  },
  HOST_ONLY: { status: 403, says: () => 'This is done at the host itself.', remedy: AT_HOST },
  NOT_PAIRED: {
    status: 401,
    says: () => 'This device is not paired with the host.',
    remedy: 'Somebody at the host lets it in; STOP works all the same.',
  },
  WATCH_ONLY: {
    status: 403,
    says: () => 'This device may only watch.',
    remedy: 'At the host, under "Devices", it can be given the right to operate.',
  },
  STOP_TOKEN: {
    status: 403,
    says: () => 'The host was started again since this page was loaded.',
    remedy: 'Ask it anew.',
  },
  HOST_FULL: {
    status: 503,
    says: () => 'Too many connections; only STOP is answered.',
    remedy: 'Close other pages.',
  },
  TOO_FAST: {
    status: 429,
    says: () => 'This device asks too much at once.',
    remedy: 'Wait a few seconds.',
  },
  NAME_TAKEN: {
    status: 422,
    says: () => 'The program itself signs with this name.',
    remedy: 'Choose another.',
  },
  NOT_ON_LAN: {
    status: 422,
    says: () => 'This host serves its own machine only.',
    remedy: 'Start it with "serve --lan" to let devices of the local network in.',
  },
  PAIRING_CLOSED: {
    status: 422,
    says: () => 'Nobody has opened pairing.',
    remedy: 'At the host, choose "Let a device in".',
  },
  PAIRING_PAUSED: {
    status: 422,
    says: ({ seconds }: { readonly seconds: number }) =>
      `Too many wrong codes. In ${seconds} s type the new code of the host.`,
    remedy: '',
  },
  CODE_WRONG: {
    status: 422,
    says: () => 'This is not the code that the host shows now.',
    remedy: 'Look again.',
  },
  NO_SUCH_DEVICE: { status: 422, says: () => 'This device is not paired any more.', remedy: '' },
  DEVICES_FULL: {
    status: 422,
    says: ({ most }: { readonly most: number }) => `${most} devices are paired.`,
    remedy: 'Remove one at the host first.',
  },
  DEVICES_FILE: {
    status: 422,
    says: ({ file, why }: { readonly file: string; readonly why?: string }) =>
      why === undefined
        ? `${file} cannot be read, so no device is paired. The next pairing writes it anew.`
        : `${file} could not be written (${why}). Free the disk or mend its rights.`,
    remedy: '',
  },
  NOT_SIMULATED: {
    status: 422,
    says: () => 'Only the simulated bench can be changed from here.',
    remedy: 'Choose a simulated gauge as the box first.',
  },
  NO_SUCH_SIMULATED_GAUGE: {
    status: 422,
    says: ({ gauge, known }: { readonly gauge: string; readonly known: readonly string[] }) =>
      `There is no simulated "${gauge}": ${known.length === 0 ? 'the simulated box is not built' : `choose one of ${known.join(', ')}`}.`,
    remedy: '',
  },
  COMPUTING_FAILED: {
    status: 422,
    says: () => 'The computation did not come to an end. The readings are safe in the journal.',
    remedy: 'Ask again.',
  },
  LISTEN_NEEDS_LAN: {
    status: 422,
    says: ({ host }: { readonly host: string }) => `${host} lets other devices in.`,
    remedy: 'Add --lan if that is wanted, on a network whose users you trust.',
  },
  LISTEN_FAILED: { status: 422, says: ({ why }: { readonly why: string }) => why, remedy: '' },
  PAGE_NOT_BUILT: { status: 422, says: () => 'The page is not built.', remedy: 'Run "npm run build" first.' },
} as const;
