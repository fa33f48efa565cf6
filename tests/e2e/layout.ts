import type { Page } from 'playwright-core';

const CONTROLS = 'button, input, select, textarea, summary, a, label.chip, .scale-name, dd';

/** Controls that reach out of the view, or whose own words do not fit into them, outside tables that scroll by themselves. */
export const clipped = (page: Page): Promise<string[]> =>
  page.evaluate(
    (selector) =>
      [...document.querySelectorAll<HTMLElement>(selector)]
        .filter(
          (each) => each.offsetParent !== null && each.closest('.table-scroll, .unseen, .plot') === null,
        )
        // What the browser leaves out while it is out of sight has no layout of its own yet.
        .filter((each) => each.checkVisibility({ contentVisibilityAuto: true }))
        .filter((each) => {
          const box = each.getBoundingClientRect();
          const isOut = box.left < -0.5 || box.right > innerWidth + 0.5;
          const isText = !(each instanceof HTMLInputElement) && !(each instanceof HTMLSelectElement);
          const isCut =
            isText && getComputedStyle(each).display !== 'inline' && each.scrollWidth > each.clientWidth + 1;
          return box.width > 0 && (isOut || isCut);
        })
        .map((each) => `${each.tagName} "${each.innerText.slice(0, 40)}" ${each.className}`),
    CONTROLS,
  );

/** Buttons of a table that scrolls by itself which nobody sees before he scrolls it. */
export const besideTables = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('.table-scroll button')]
      .filter((each) => each.offsetParent !== null)
      .filter((each) => {
        const view = each.closest('.table-scroll')?.getBoundingClientRect();
        const box = each.getBoundingClientRect();
        return view !== undefined && !(box.left >= view.left - 0.5 && box.right <= view.right + 0.5);
      })
      .map((each) => `"${each.ariaLabel ?? each.innerText.slice(0, 40)}" lies beside the view of its table`),
  );

/** What lies over the sheet must leave some of the sheet to be seen. */
export const covered = (page: Page): Promise<number> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.dash, .foot, .paper div:has(> .button-main)')]
      .filter((each) => ['fixed', 'sticky'].includes(getComputedStyle(each).position))
      .map((each) => each.getBoundingClientRect())
      .filter((box) => box.width > innerWidth / 2)
      .reduce((sum, box) => sum + box.height / innerHeight, 0),
  );

/** Dial and confirmation, clear of the dash above and of the stop control below. */
export const isAnswerInSight = (page: Page): Promise<boolean> =>
  page.evaluate(() => {
    const confirm = document.querySelector('.entry .button-main')?.getBoundingClientRect();
    const question = document.querySelector('.prompt')?.getBoundingClientRect();
    const dash = document.querySelector('.dash')?.getBoundingClientRect();
    const stop = document.querySelector('.stop-bar')?.getBoundingClientRect();
    if (!confirm || !question || !dash || !stop) return false;
    const isBeside = dash.right < question.left || dash.left > question.right;
    return (isBeside || question.top >= dash.bottom - 1) && confirm.bottom <= stop.top;
  });

/** How far the page can be pushed sideways. */
export const sidewaysPx = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
