/** Figures as the page writes them stand with all other words. */
export {
  shownUnit,
  shownReading,
  shownPlace,
  shownError,
  shownOhm,
  sureOhm,
  markWords,
  MECHANISM_WORDS,
  QUANTITY_WORDS,
  shownPart,
  shownSpread,
} from '../../words/shown';
