import type { LinkProblem, LinkProblemCode } from './types';

/** What is known when a link fails: the port or program, and whatever the system or the box said. */
export type ProblemSlots = { readonly title: string; readonly detail?: string };

const saidBy = (detail: string | undefined): string => (detail === undefined ? '' : ` (${detail})`);

/** One sentence a code: what was seen, and what to do about it. */
const sentences: Record<LinkProblemCode, (slots: ProblemSlots) => string> = {
  LINK_NO_BOX: () => 'no box is connected; nothing can be driven or measured without one',
  LINK_WHICH_BOX: () => 'several boxes are plugged in, and nobody has said which one is on this gauge',
  LINK_NO_PORTS: () => 'no USB serial port is there; plug the box in, or work with the simulated one',
  LINK_SEVERAL_PORTS: ({ detail }) =>
    `more than one USB serial port is there${saidBy(detail)}; say which one with --port, or by the number on the box with --box`,
  LINK_NO_SUCH_PORT: ({ title }) =>
    `there is no port ${title}; plug the box in, then run "needlewright ports" to see what is there`,
  LINK_NOT_SERIAL: ({ title }) =>
    `${title} is no serial device and was not opened; pick a port from "needlewright ports"`,
  LINK_NO_PERMISSION: ({ title }) =>
    `no permission to open ${title}; on Linux add yourself to the dialout group ("sudo usermod -aG dialout $USER"), then log out and in again`,
  LINK_PORT_BUSY: ({ title }) =>
    `${title} is in use by another program; close the other program (a second needlewright, a terminal program), then try again`,
  LINK_PORT_ERROR: ({ title, detail }) =>
    `${title} could not be used as a serial port${saidBy(detail)}; check the path with "needlewright ports"`,
  LINK_OPEN_TIMEOUT: ({ title }) =>
    `${title} did not open within two seconds; unplug the box, wait a moment and plug it in again`,
  LINK_NOT_OUR_BOX: ({ title, detail }) =>
    `the device on ${title} does not answer as a Needlewright box${saidBy(detail)}; pick the right port from "needlewright ports", or press the reset button of the box`,
  LINK_VERSION: ({ title, detail }) =>
    `the box on ${title} and this program do not speak the same protocol version${saidBy(detail)}; it will not be armed; update the older of the two`,
  LINK_UNPLUGGED: ({ title }) =>
    `the connection to ${title} was lost; its output opens by itself; plug the box in again`,
  LINK_SILENT: ({ title }) =>
    `the box on ${title} stopped answering; its output opens by itself within its dead-man time; check its cable and its supply`,
  LINK_RESTARTED: ({ title }) =>
    `the box on ${title} restarted; its output is open and nothing was sent again; check its supply before arming`,
  LINK_NOT_LIVE: ({ title, detail }) => `nothing was sent to ${title}: the link is ${detail ?? 'not live'}`,
  LINK_CLOSED: ({ title }) => `the link to ${title} was closed`,
  LINK_OVERTAKEN: ({ title }) =>
    `the request to ${title} was set aside because the output was told to open first`,
  LINK_BAD_REQUEST: ({ title, detail }) =>
    `nothing was sent to ${title}: the request is not valid${saidBy(detail)}`,
  LINK_BAD_ANSWER: ({ title, detail }) =>
    `the box on ${title} gave an answer that does not fit the request${saidBy(detail)}; update the older of box and program`,
  LINK_NO_SIMULATOR: ({ title, detail }) =>
    `the ${title} could not be started${saidBy(detail)}; run "npm run build" first`,
};

/** The problem `code` put into words for this port or program. */
export const linkProblem = (code: LinkProblemCode, slots: ProblemSlots): LinkProblem => ({
  code,
  message: sentences[code](slots),
});
