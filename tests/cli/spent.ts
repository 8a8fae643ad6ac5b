import type { Answer } from './person.js';

/** One that spends money and time on claims, told as somebody tells it. */
export const SPENT: readonly (readonly [string, ...Answer[]])[] = [
  ['What is the entry about?', 'Ordered a second bank'],
  ['Which systems?', ['house-dc']],
  ['A part ordered, come', '+'],
  ['What is it?', 'second bank'],
  ['second bank: what happened to it?', 'ordered'],
  ['What was paid', '1480'],
  ['which of these was it chosen by?', ['house-dc.rest-voltage', 'house-dc.bank-capacity']],
  ['Was anything decided?', 'One bank or two?'],
  ['What was chosen?', 'two'],
  ['Why?', 'One does not last the night.'],
  ['the decision rest on?', ['house-dc.bank-model']],
  ['What is left to do?', 'Fit the second bank'],
  ['How long will it take', '6'],
  ['Fit the second bank: which of these', ['house-dc.bank-model']],
  ['In your own words', 'So be it.'],
];
