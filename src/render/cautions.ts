import type { Hazard } from '../check/model.js';

/**
 * The usual cautions for each kind of danger. Each names where it is published; the rules named are written
 * for workplaces or makers and are given as the origin of a fact, not as a duty of whoever reads it. What has
 * no published source says so.
 */

/** A fact to be careful by, and where it is published. */
interface CautionFact {
  readonly text: string;
  readonly source: string;
}

/** The cautions of one kind of danger. */
export interface Caution {
  readonly hazard: Hazard;
  readonly title: string;
  readonly facts: readonly CautionFact[];
}

/** What stands under every list of cautions. */
export const CAUTIONS_DEFER =
  'These are reminders, not a procedure and not an approval. Local codes and licensed people come first.';

const COMMON = 'common practice, no source';

const CAUTIONS: Readonly<Record<Hazard, Omit<Caution, 'hazard'>>> = {
  'mains-ac': {
    title: 'Mains and shore power',
    facts: [
      {
        text: 'Keep out of the water near docks and boats that have shore power, do not work on underwater fittings of a boat that is plugged in, and have the boat tested for leakage every year.',
        // US Power Squadrons, The Ensign, September 2013; Electric Shock Drowning Prevention Association.
        source: 'The Ensign, Sept 2013; Electric Shock Drowning Prevention Association',
      },
      {
        text: 'A current of about 10 mA can paralyse a swimmer; the US code of 2017 has marinas protected at 30 mA at most.',
        // NFPA 70 (2017) article 555, as reported by Trade Only Today; 10 mA: pysystems.ca quoting ESFI.
        source: 'National Electrical Code 2017, art. 555, as reported by Trade Only Today; ESFI',
      },
      { text: 'Unplug, lock off and prove it dead before touching a conductor.', source: COMMON },
    ],
  },
  'dc-battery': {
    title: 'Batteries and direct current',
    facts: [
      {
        text: 'Charging gives off hydrogen, which can explode from 4.1 % in air: let it out faster than it gathers.',
        // OSHA interpretation letter of 1976-01-26 on 29 CFR 1910.178(g)(2).
        source: 'OSHA letter of 26 Jan 1976 on 29 CFR 1910.178(g)(2)',
      },
      {
        text: 'With unsealed cells: vent caps in place while charging, face shield, apron and rubber gloves, and water to drench eyes and skin within 25 ft (7.62 m).',
        // 29 CFR 1926.441(a)-(b).
        source: '29 CFR 1926.441(a)–(b)',
      },
      {
        text: 'No flame, spark or arc near them, no tools on top of them; acid goes into water, never water into acid.',
        // 29 CFR 1910.178(g).
        source: '29 CFR 1910.178(g)',
      },
      {
        text: 'Every conductor that is not grounded has a breaker or fuse at its source, within 7 in, or 40 in where it is sheathed.',
        // 33 CFR 183.455.
        source: '33 CFR 183.455',
      },
    ],
  },
  fuel: {
    title: 'Fuel',
    facts: [
      {
        text: 'Where the engine burns petrol, its vapour can explode: before starting, run the blower for 4 minutes and check the engine bilge for vapour.',
        // 33 CFR 183.610(f), wording of the label.
        source: '33 CFR 183.610(f)',
      },
      {
        text: 'Where petrol is kept, on a diesel boat that of an outboard: electrical parts in that space must not be able to light the vapour, unless a bulkhead, their position or 2 ft of open air sets them apart.',
        // 33 CFR 183.410.
        source: '33 CFR 183.410',
      },
      {
        text: 'Test a tank with air or inert gas at no more than the pressure on its label, and look for leaks at fittings and seams by another way than the drop of pressure.',
        // 33 CFR 183.580.
        source: '33 CFR 183.580',
      },
    ],
  },
  gas: {
    title: 'Gas',
    facts: [
      {
        text: 'From 10 % of the lower explosive limit air counts as hazardous; below that, still find where the gas comes from.',
        // 29 CFR 1915 Subpart B Appendix A.
        source: '29 CFR 1915 Subpart B, App. A',
      },
      {
        text: 'Bottled gas is heavier than air and gathers in the bilge. Shut the bottle, air the boat, make no spark; a leak is looked for with soapy water, never a flame.',
        source: COMMON,
      },
    ],
  },
  exhaust: {
    title: 'Exhaust and carbon monoxide',
    facts: [
      {
        text: 'Carbon monoxide cannot be seen or smelled. Headache, confusion, tiredness, dizziness and nausea look like seasickness; near an exhaust, inside or outside, it can reach dangerous levels in seconds.',
        // NIOSH topic page on carbon monoxide in boating (archived).
        source: 'NIOSH, carbon monoxide in boating',
      },
      {
        text: '1200 ppm is immediately dangerous to life and health, and has been measured around the swim platforms of houseboats.',
        // Summary of the NIOSH, US Coast Guard and National Park Service houseboat studies.
        source: 'NIOSH, USCG and NPS houseboat studies',
      },
      {
        text: 'The US limit at work is 50 ppm over 8 hours.',
        // 29 CFR 1910.1000 Table Z-1, from memory.
        source: '29 CFR 1910.1000, Table Z-1',
      },
    ],
  },
  'hot-work': {
    title: 'Hot work',
    facts: [
      {
        text: 'Before welding, grinding or burning: clear what can catch fire on both sides of the plate, have an extinguisher at hand and somebody to watch, and look again half an hour after.',
        source: COMMON,
      },
      {
        text: 'Test the air of a space for oxygen first, then for what burns: from 10 % of the lower explosive limit it is hazardous.',
        // 29 CFR 1915.12(a) for the order; Subpart B Appendix A for the limit.
        source: '29 CFR 1915.12(a); Subpart B, App. A',
      },
    ],
  },
  lifting: {
    title: 'Lifting',
    facts: [
      {
        text: 'Pad slings at sharp edges, warn people before raising, lowering or swinging, and let nobody stand between a swinging load and something fixed.',
        // 29 CFR 1915.116.
        source: '29 CFR 1915.116',
      },
      {
        text: 'A lift is planned by somebody competent, supervised, and carried out safely.',
        // UK LOLER 1998, regulation 8, from memory.
        source: 'LOLER 1998, reg. 8',
      },
      {
        text: 'Weight that is added, shifted or hung up changes stability.',
        // FAO Fisheries Technical Paper 517 (2009), contents.
        source: 'FAO Fisheries Technical Paper 517 (2009)',
      },
    ],
  },
  'enclosed-space': {
    title: 'Enclosed spaces',
    facts: [
      {
        text: 'Test oxygen first, then what burns, then what poisons; go in only between 19.5 % and 22.0 % oxygen.',
        // 29 CFR 1915.12(a).
        source: '29 CFR 1915.12(a)',
      },
      {
        text: 'Ordinary air has 20.8 % oxygen: less means that something has used it up or pushed it out.',
        // 29 CFR 1915 Subpart B Appendix A.
        source: '29 CFR 1915 Subpart B, App. A',
      },
      { text: 'Somebody stays outside who can call for help and does not go in after you.', source: COMMON },
    ],
  },
  coatings: {
    title: 'Paints and resins',
    facts: [
      {
        text: 'Two-pack paint with isocyanates is the commonest cause of asthma from work in the UK. To spray it, only air-fed breathing apparatus will do, worn until the mist, which cannot be seen, has cleared.',
        // UK Health and Safety Executive.
        source: 'UK HSE',
      },
      {
        text: 'Styrene from polyester resin: the US limit at work is 100 ppm over 8 hours, NIOSH recommends 50 ppm. Hull, deck and gel-coat work gave the most.',
        // NIOSH survey 2007; NIOSH 82-110.
        source: 'NIOSH survey 2007; NIOSH 82-110',
      },
    ],
  },
  aloft: {
    title: 'Work aloft',
    facts: [
      {
        text: 'Two lines, each made fast by itself; tools on lanyards; nobody below; somebody at the winch who does nothing else.',
        source: COMMON,
      },
    ],
  },
  flooding: {
    title: 'Water coming in',
    facts: [
      {
        text: 'Every hole below the water has its plug tied beside it, and everybody aboard knows where the holes are.',
        source: COMMON,
      },
      { text: 'A pump that starts by itself hides a leak: tell how often it runs.', source: COMMON },
    ],
  },
  'steering-loss': {
    title: 'Loss of steering',
    facts: [
      {
        text: 'Ship the emergency tiller once in quiet water, before it is needed; keep fingers out of chain, wire and quadrant.',
        source: COMMON,
      },
    ],
  },
  'rig-failure': {
    title: 'A rig that comes down',
    facts: [
      {
        text: 'Nobody goes up, or stands under, a rig of which a wire, a terminal or a chainplate is cracked or has not been looked at.',
        source: COMMON,
      },
    ],
  },
};

/** The cautions for some kinds of danger, in the order given. */
export function cautionsFor(hazards: readonly Hazard[]): Caution[] {
  return hazards.map((hazard) => ({ hazard, ...CAUTIONS[hazard] }));
}
