/** The class of a button that is the next thing to do here, or only one that may be pressed. */
export const plateIf = (isNext: boolean): string => (isNext ? 'button button-main' : 'button');
