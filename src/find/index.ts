/** Finding records again: words and limits, in the browser and on the command line alike. */
export { addressOf, type FindState, START, stateFrom, type Units } from './address.js';
export {
  dateOf,
  type FindHead,
  type FindPart,
  NO_DAY,
  type PointName,
  readHead,
  type SentHead,
} from './data.js';
export { encode, encoderFor, type FindNames, headNames, type RecordGroup } from './encode.js';
export { namesOf } from './names.js';
export { BEST_FIRST, type Order, pageOf, type Sorting } from './order.js';
export { type Plan, planOf } from './plan.js';
export { NO_QUERY, type Query, type QueryField, type QueryProblem } from './query.js';
export { countsBySort, type Found, leftOut, run, whyNothing } from './run.js';
export { type Mark, marksOf, type Pair, pairs, thinned } from './series.js';
export { atOnce, type Steps } from './steps.js';
export { openTable, type Table, textAt, writtenValue } from './table.js';
export { LIMITS, OUTCOMES, SORTS, STANDINGS } from './vocabulary.js';
