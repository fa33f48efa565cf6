import type { Locator, Page } from 'playwright-core';

/** A telephone held upright, as a browser context takes it. */
export const phoneOf = (width: number, height: number) =>
  ({ viewport: { width, height }, hasTouch: true, isMobile: true }) as const;

export type Spot = { readonly x: number; readonly y: number };

/** A place on a dial's arc, in CSS pixels of the view: at a fraction of the arc, so far from the pivot in the drawing. */
export const spotOnArc = (face: Locator, fraction: number, arcDegrees = 110, radius = 80): Promise<Spot> =>
  face.evaluate(
    (svg, [wanted, arc, away]) => {
      const radians = ((wanted! - 0.5) * arc! * Math.PI) / 180;
      const matrix = svg instanceof SVGSVGElement ? svg.getScreenCTM() : null;
      const point = new DOMPoint(away! * Math.sin(radians), -away! * Math.cos(radians));
      const { x, y } = point.matrixTransform(matrix ?? undefined);
      return { x, y };
    },
    [fraction, arcDegrees, radius],
  );

export type Finger = {
  down(at: Spot): Promise<void>;
  /** In small steps, as a finger reports itself, and then at rest. */
  moveTo(at: Spot): Promise<void>;
  up(): Promise<void>;
};

const STEPS = 8;
/** A finger lifted at speed is a fling, and the browser takes the next tap for the one that stops it. */
const REST_FRAMES = 8;
const frame = (page: Page): Promise<unknown> =>
  page.evaluate(() => new Promise((resolve) => requestAnimationFrame(resolve)));

/** A real finger: touch events of the browser itself, with everything that scrolling and gestures make of them. */
export async function fingerOn(page: Page): Promise<Finger> {
  const session = await page.context().newCDPSession(page);
  let last: Spot = { x: 0, y: 0 };
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', at: readonly Spot[]): Promise<unknown> =>
    session.send('Input.dispatchTouchEvent', { type, touchPoints: at.map(({ x, y }) => ({ x, y })) });
  return {
    async down(at) {
      last = at;
      await touch('touchStart', [at]);
    },
    async moveTo(at) {
      for (let step = 1; step <= STEPS; step += 1) {
        const share = step / STEPS;
        await touch('touchMove', [
          { x: last.x + share * (at.x - last.x), y: last.y + share * (at.y - last.y) },
        ]);
      }
      for (let rest = REST_FRAMES; rest >= 0; rest -= 1) {
        await frame(page);
        await touch('touchMove', [{ x: at.x + (rest % 2) / 4, y: at.y }]);
      }
      last = at;
    },
    async up() {
      await touch('touchEnd', []);
    },
  };
}
