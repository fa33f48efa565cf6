import type { Page } from 'playwright-core';

/** What one may do next in a view: the plate, or the answers of the one question it asks. */
const NEXT = '.button-main';
const ANSWERS = '[data-answers]';
const PRESSED = 'a, button, summary, input, select, textarea, label.chip';
/** Apple and WCAG 2.5.5 say 44; half a pixel is drawn away. */
const FINGER_PX = 43.5;
/** A thumb of the hand that holds a telephone reaches so much of it. */
const THUMB_SHARE = 0.4;

type Asked = {
  /** How many plates a view has; none where there is nothing to do but to wait or to watch. */
  readonly plates: 0 | 1;
  /** A sweep runs: everything to press is in sight, on a telephone (`isAtThumb`) at the thumb. */
  readonly isRunning: boolean;
  readonly isAtThumb: boolean;
};

/** Where the view, as it is first seen at this size, breaks the rules of the look; in sentences. */
export async function rulesBroken(page: Page, { plates, isRunning, isAtThumb }: Asked): Promise<string[]> {
  await page.evaluate(() => scrollTo(0, 0));
  return page.evaluate(
    ([next, answers, pressed, fingerPx, thumbShare, wanted, running, atThumb]) => {
      const shown = (selector: string): HTMLElement[] =>
        [...document.querySelectorAll<HTMLElement>(selector)].filter((each) => {
          const { width, height } = each.getBoundingClientRect();
          return (
            each.checkVisibility() &&
            width > 0 &&
            height > 0 &&
            each.closest('.unseen, .plot-points') === null
          );
        });
      const named = (each: HTMLElement): string =>
        `${each.tagName.toLowerCase()} "${(each.ariaLabel ?? each.innerText).slice(0, 40)}"`;
      const isOut = (each: HTMLElement): boolean => {
        const { left, right, top, bottom } = each.getBoundingClientRect();
        return left < -0.5 || top < -0.5 || right > innerWidth + 0.5 || bottom > innerHeight + 0.5;
      };
      const found = shown(next);
      const first = found.length > 0 ? found : shown(answers).slice(0, 1);
      /** A box or a link within a sentence is pressed by what it stands in. */
      const isPart = (each: HTMLElement): boolean =>
        each.matches('label.chip input') ||
        (each.matches('a') &&
          each.closest('p, li, td') !== null &&
          getComputedStyle(each).display === 'inline');
      /** What an answer answers: the nearest heading of a question round it. */
      const questionOf = (each: HTMLElement): HTMLElement | null => {
        for (
          let round = each.parentElement;
          round !== null && round !== document.body;
          round = round.parentElement
        ) {
          const question = round.querySelector<HTMLElement>(':scope > .prompt');
          if (question !== null) return question;
        }
        return null;
      };
      const isSeen = (each: HTMLElement): boolean => {
        const { left, top, bottom, width } = each.getBoundingClientRect();
        return [top + 4, bottom - 4].every((y) => {
          const there = document.elementFromPoint(left + Math.min(width, 40) / 2, y);
          return there !== null && (each.contains(there) || there.contains(each));
        });
      };
      const controls = shown(pressed).filter((each) => !isPart(each));
      return [
        ...(first.length === wanted ? [] : [`${first.length} plates: ${first.map(named).join(', ')}`]),
        ...first.filter(isOut).map((each) => `${named(each)} lies outside of the first screen`),
        ...first
          .filter((each) => each.matches(answers) && !isOut(each))
          .filter((each) => {
            const question = questionOf(each);
            return question !== null && !isSeen(question);
          })
          .map((each) => `${named(each)} can be pressed while its question is out of sight`),
        ...controls
          .filter((each) => {
            const { width, height } = each.getBoundingClientRect();
            return Math.min(width, height) < fingerPx;
          })
          .map((each) => {
            const { width, height } = each.getBoundingClientRect();
            return `${named(each)} is ${Math.round(width)} x ${Math.round(height)} px`;
          }),
        ...(running
          ? controls
              .filter((each) => each.closest('.run, .foot') !== null && !isSeen(each))
              .map((each) => `${named(each)} is out of sight while the sweep runs`)
          : []),
        ...(atThumb
          ? controls
              .filter((each) => each.closest('.bar') === null)
              .filter((each) => each.getBoundingClientRect().top < (1 - thumbShare) * innerHeight)
              .map(
                (each) =>
                  `${named(each)} lies ${Math.round(each.getBoundingClientRect().top)} px down, above the thumb`,
              )
          : []),
      ];
    },
    [NEXT, ANSWERS, PRESSED, FINGER_PX, THUMB_SHARE, plates, isRunning, isAtThumb] as const,
  );
}
