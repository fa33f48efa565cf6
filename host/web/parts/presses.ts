type Press = Pick<MouseEvent, 'timeStamp' | 'clientX' | 'clientY' | 'target'>;

/** A hand that means to press once may press twice within this long, and so near. Common practice, no source. */
const TWICE_MS = 600;
const TWICE_PX = 30;

let presses: readonly [Press | undefined, Press | undefined] = [undefined, undefined];
if (typeof document !== 'undefined') {
  const noted = (event: MouseEvent): void => {
    const { timeStamp, clientX, clientY, target } = event;
    presses = [presses[1], { timeStamp, clientX, clientY, target }];
    if (isSecondOnPlate(event)) {
      event.preventDefault();
      event.stopImmediatePropagation();
    }
  };
  document.addEventListener('click', noted, { capture: true });
}

/**
 * Plates follow each other at the thumb: the next one takes no second half of a double press that the last one had. A
 * mouse says by itself which press is a second one (`detail`, UI Events); a finger's taps are told by their time.
 */
function isSecondOnPlate(press: MouseEvent): boolean {
  const plate = press.target instanceof Element ? press.target.closest('.button-main') : null;
  const isTouch = press instanceof PointerEvent && press.pointerType === 'touch';
  return (isTouch || press.detail > 1) && plate !== null && isForSomethingElse(press, plate);
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
