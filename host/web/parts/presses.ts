type Press = Pick<MouseEvent, 'timeStamp' | 'clientX' | 'clientY' | 'target'>;

/** A hand that means to press once may press twice within this long, and so near. Common practice, no source. */
const TWICE_MS = 600;
const TWICE_PX = 30;

let presses: readonly [Press | undefined, Press | undefined] = [undefined, undefined];
if (typeof document !== 'undefined') {
  const noted = ({ timeStamp, clientX, clientY, target }: MouseEvent): void =>
    void (presses = [presses[1], { timeStamp, clientX, clientY, target }]);
  document.addEventListener('click', noted, { capture: true });
}

/**
 * The second half of a double press that was meant for something else: that has given way, and now this lies under the
 * finger. The keyboard's click has no finger.
 */
export function isForSomethingElse(press: MouseEvent, own: Element): boolean {
  const [before] = presses;
  if (before === undefined || press.detail === 0 || press.timeStamp - before.timeStamp > TWICE_MS)
    return false;
  const away = Math.hypot(press.clientX - before.clientX, press.clientY - before.clientY);
  return away <= TWICE_PX && !(before.target instanceof Node && own.contains(before.target));
}
