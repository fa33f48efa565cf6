import { describe, expect, it } from 'vitest';
import { listPorts, portFinder, type ByteSource, type LinkProblem, type PortInfo } from '../../host/link';

const usb = (path: string, serialNumber: string | undefined, productId = '0005'): PortInfo => ({
  path,
  manufacturer: 'workshop',
  vendorId: '2E8A',
  productId,
  serialNumber,
});
const builtIn: PortInfo = {
  path: '/dev/ttyS0',
  manufacturer: undefined,
  vendorId: undefined,
  productId: undefined,
  serialNumber: undefined,
};

function finder(path: string | undefined, lists: readonly (readonly PortInfo[])[]) {
  const left = [...lists];
  return portFinder(path, {
    list: () => Promise.resolve({ ports: left.shift() ?? [], warning: undefined }),
    open: (opened): ByteSource => ({
      title: opened,
      connect: () => Promise.reject(new Error('not opened here')),
    }),
  });
}

const said = (found: ByteSource | LinkProblem): string => ('code' in found ? found.code : found.title);

describe('finding the port of a box', () => {
  it('follows the USB identity to another path after a replug', async () => {
    const find = finder('/dev/ttyACM0', [
      [usb('/dev/ttyACM0', 'A1'), usb('/dev/ttyACM1', 'B2')],
      [usb('/dev/ttyACM0', 'B2'), usb('/dev/ttyACM3', 'A1')],
    ]);
    expect(said(await find())).toBe('/dev/ttyACM0');
    expect(said(await find())).toBe('/dev/ttyACM3');
  });

  it('does not open another device that took the path over', async () => {
    const find = finder('/dev/ttyACM0', [[usb('/dev/ttyACM0', 'A1')], [usb('/dev/ttyACM0', 'B2')]]);
    await find();
    const gone = await find();
    expect(said(gone)).toBe('LINK_NO_SUCH_PORT');
    expect('message' in gone && gone.message).toContain('serial number A1');
  });

  it('chooses none of two like devices without serial numbers', async () => {
    const find = finder('/dev/ttyACM0', [
      [usb('/dev/ttyACM0', undefined)],
      [usb('/dev/ttyACM1', undefined), usb('/dev/ttyACM2', undefined)],
    ]);
    await find();
    expect(said(await find())).toBe('LINK_NO_SUCH_PORT');
  });

  it('takes the only USB port when none is named, never a built-in one', async () => {
    expect(said(await finder(undefined, [[builtIn, usb('/dev/ttyACM0', 'A1')]])())).toBe('/dev/ttyACM0');
    expect(said(await finder(undefined, [[builtIn]])())).toBe('LINK_NO_PORTS');
    const several = await finder(undefined, [[usb('/dev/ttyACM0', 'A1'), usb('/dev/ttyACM1', 'B2')]])();
    expect(said(several)).toBe('LINK_SEVERAL_PORTS');
    expect('message' in several && several.message).toContain('/dev/ttyACM0, /dev/ttyACM1');
  });

  it('keeps to the path of a port that has no USB identity', async () => {
    const find = finder('/dev/pts/4', [[], []]);
    expect(said(await find())).toBe('/dev/pts/4');
    expect(said(await find())).toBe('/dev/pts/4');
  });

  it('lists what the device folder shows when the system tool is missing', async () => {
    const missing = Object.assign(new Error('spawn udevadm ENOENT'), { code: 'ENOENT' });
    const { warning } = await listPorts(() => Promise.reject(missing));
    expect(warning).toContain('udevadm');
  });
});
