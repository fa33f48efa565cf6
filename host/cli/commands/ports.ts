import { greetBoxes, listPorts, usbPorts, type GreetedPort, type PortInfo } from '../../link';
import { JSON_OPTION, type Command, type Report } from '../command';
import type { AnswerOf } from '../output/schemas';
import { textTable } from '../output/text-table';

/** The serial ports of this machine. */
export const portsCommand: Command = {
  name: 'ports',
  summary: 'the serial ports of this machine',
  usage: '[options]',
  example: 'needlewright ports --boxes',
  details: [
    'Ports that can be a box (USB) come first; a box is found again by its USB identity, not by its path. Several boxes',
    'are known by the numbers they give when they are greeted (--boxes): cheap USB adapters have none of their own.',
  ],
  options: {
    boxes: { kind: 'flag', help: 'greet every USB port: what is a box says its number' },
    port: { kind: 'texts', value: 'PATH', help: 'greet this port as well, up to several times' },
    ...JSON_OPTION,
  },
  words: { least: 0, most: 0 },
  run: async (given) => {
    const listed = await listPorts();
    const asked = given.flag('boxes') ? usbPorts(listed.ports).map(({ path }) => path) : [];
    const greeted = await greetBoxes([...new Set([...asked, ...given.texts('port')])]);
    return report(listed, greeted);
  },
};

function report(
  { ports, warning }: Awaited<ReturnType<typeof listPorts>>,
  greeted: readonly GreetedPort[],
): Report {
  const likely = usbPorts(ports);
  const ordered = [...likely, ...ports.filter((port) => !likely.includes(port))];
  return {
    text: [
      ...(ordered.length === 0 ? ['no serial ports'] : portTable(ordered, likely)),
      ...greeted.map(
        ({ path, boxSerial, trouble }) =>
          `${path}: ${boxSerial === undefined ? `no box (${trouble ?? 'nothing answered'})` : `box number ${boxSerial}`}`,
      ),
    ],
    json: {
      schema: 'needlewright/ports/1',
      ports: ordered.map((port) => portJson(port, likely.includes(port))),
      boxes: greeted.map(({ path, boxSerial, trouble }) => ({
        path,
        box_serial: boxSerial ?? null,
        trouble: trouble ?? null,
      })),
    },
    ...(warning === undefined ? {} : { warnings: [warning] }),
  };
}

const portTable = (ports: readonly PortInfo[], likely: readonly PortInfo[]): string[] =>
  textTable(
    ['port', 'USB', 'serial number', 'maker', ''].map((title) => ({ title, align: 'left' as const })),
    ports.map((port) => [
      port.path,
      port.vendorId === undefined ? '' : `${port.vendorId}:${port.productId ?? '?'}`,
      port.serialNumber ?? '',
      port.manufacturer ?? '',
      likely.includes(port) ? 'can be a box' : 'built in',
    ]),
  );

const portJson = (port: PortInfo, canBeBox: boolean): AnswerOf<'ports'>['ports'][number] => ({
  path: port.path,
  can_be_box: canBeBox,
  vendor_id: port.vendorId ?? null,
  product_id: port.productId ?? null,
  serial_number: port.serialNumber ?? null,
  manufacturer: port.manufacturer ?? null,
});
