import { createContext, type ComponentChildren, type JSX } from 'preact';
import { useContext, useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { WAKE_MS } from './wake';

/** Room around a fingertip. Common practice, no source. */
const FINGER_PX = 12;

const ANSWERS = 'data-answers';

/** Whether the question on the screen takes an answer yet; outside a `OnePress` everything does. */
const Awake = createContext(true);

type OnePressProps = {
  /** Names the question: another name is another question. */
  readonly question: string;
  readonly children: ComponentChildren;
};

/**
 * Questions that follow each other at one place: a press answers one of them and no more. A question that has just come
 * sleeps for a moment; a press that began before it woke, or a second one before the first was answered, does nothing;
 * and no button of the new question comes to lie where the finger still is.
 */
export function OnePress({ question, children }: OnePressProps): JSX.Element {
  const place = useRef<HTMLDivElement>(null);
  const finger = useRef<{ readonly x: number; readonly y: number } | undefined>(undefined);
  /** The press under way began while the question was awake. */
  const isFresh = useRef(false);
  const [awakeFor, setAwakeFor] = useState<string | undefined>(undefined);
  const [presses, setPresses] = useState(0);
  const isAwake = awakeFor === question;
  useEffect(() => {
    const timer = setTimeout(() => setAwakeFor(question), WAKE_MS);
    return () => clearTimeout(timer);
  }, [question, presses]);
  useLayoutEffect(() => moveAside(place.current, finger.current), [question]);
  const pressed = (event: MouseEvent): void => {
    const button = event.target instanceof Element ? event.target.closest('button') : null;
    if (button === null) return;
    // The keyboard's click has no pointer before it.
    const isPointer = event.detail > 0;
    const isAnswer = button.hasAttribute(ANSWERS);
    if (isAnswer && (!isAwake || (isPointer && !isFresh.current))) {
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    finger.current = isPointer ? { x: event.clientX, y: event.clientY } : undefined;
    if (!isAnswer) return;
    isFresh.current = false;
    setAwakeFor(undefined);
    setPresses((count) => count + 1);
  };
  return (
    <Awake.Provider value={isAwake}>
      <div
        class="stack"
        ref={place}
        onPointerDownCapture={() => (isFresh.current = isAwake)}
        onClickCapture={pressed}
      >
        {children}
      </div>
    </Awake.Provider>
  );
}

/** A button of a question: it takes presses once the question has been on the screen for a moment. */
export function AnswerButton(props: {
  readonly class: string;
  readonly disabled?: boolean;
  readonly onClick: () => void;
  readonly children: ComponentChildren;
}): JSX.Element {
  const isAwake = useContext(Awake);
  return (
    <button
      type="button"
      class={props.class}
      {...{ [ANSWERS]: '' }}
      disabled={!isAwake || props.disabled === true}
      onClick={props.onClick}
    >
      {props.children}
    </button>
  );
}

const MOST_MOVES = 4;

/**
 * Moves the answers of what has just come down until none of its buttons lies under the finger that pressed the last
 * one. The question itself stays where it is read.
 */
function moveAside(
  place: HTMLElement | null,
  finger: { readonly x: number; readonly y: number } | undefined,
): void {
  const buttons = [...(place?.querySelectorAll(`[${ANSWERS}]`) ?? [])];
  const answers = buttons[0]?.parentElement;
  if (!(answers instanceof HTMLElement) || finger === undefined) return;
  let down = 0;
  for (let move = 0; move < MOST_MOVES; move += 1) {
    const under = buttons
      .map((button) => button.getBoundingClientRect())
      .find(
        ({ left, right, top, bottom }) =>
          finger.x > left - FINGER_PX &&
          finger.x < right + FINGER_PX &&
          finger.y > top - FINGER_PX &&
          finger.y < bottom + FINGER_PX,
      );
    if (under === undefined) return;
    down += finger.y - under.top + 2 * FINGER_PX;
    answers.style.marginTop = `${down}px`;
  }
}
