/** What was found on samples and is no default here, and why: a clock that had to be guessed would clear nothing. */
export interface AnalyteNotUsable {
  readonly id: string;
  readonly document: string;
  readonly source: string;
  readonly because: string;
}

export const ANALYTES_NOT_USABLE: readonly AnalyteNotUsable[] = [
  {
    id: 'table-ii-today',
    document: '40 CFR 136.3, Table II, the text of today with its footnotes',
    source: 'Not read; the first page of a state copy of 2014 and a copy of 1995 were',
    because: 'What the copies do not show is recalled, and says so in each group.',
  },
  {
    id: 'ferrous-iron-kit',
    document: 'Ferrous iron by a field kit, "immediately"',
    source: 'from memory',
    because: 'At once is no number of minutes to count with, and no container was named.',
  },
  {
    id: 'organic-halides',
    document: 'Total organic halides (TOX), container, preservative and holding time',
    source: 'Only its place in lists of filling orders was read',
    because: 'How it is taken and how long it keeps was not found.',
  },
  {
    id: 'biphenyls-without-limit',
    document: 'Polychlorinated biphenyls by SW-846, no limit',
    source: 'US EPA, SW-846, from memory',
    because: 'No limit starts no clock; the group counts by the shortest list that gives one.',
  },
  {
    id: 'diesel-range-with-acid',
    document: 'Petroleum hydrocarbons, diesel range, with hydrochloric acid for 14 days, as some states have it',
    source: 'from memory',
    because: 'Which states, and from where to where the 14 days count, was not found.',
  },
  {
    id: 'calendar-months',
    document: 'Six months by the calendar',
    source: '40 CFR 136.3, Table II, as written',
    because:
      'Read as 180 days by US EPA in questions and answers on SW-846; by the calendar the end depends on the month.',
  },
  {
    id: 'allowed-bubble',
    document: 'A bubble of up to 6 mm in a vial, as some methods have it',
    source: 'from memory',
    because: 'The field manual that was read discards a vial with any bubble.',
  },
  {
    id: 'capsule-flush',
    document: 'Flushing a filter capsule with 500 to 1000 mL',
    source: 'from memory',
    because: 'By whom it is asked for was not found; 25 to 50 mL were read.',
  },
  {
    id: 'sulfuric-acid-of-interpretation',
    document: 'US DOT PHMSA, interpretation 00-0249, the limit of sulfuric acid',
    source: 'The excerpt that was read ends before it',
    because: 'The limit that is used is that of Table II, footnote 3, from memory.',
  },
  {
    id: 'pfas-methods-themselves',
    document: 'EPA Methods 1633, 533 and 537.1, their text',
    source: 'Located, not read',
    because: 'Their holding times are recalled, and say so in each group.',
  },
  {
    id: 'quality-manuals',
    document:
      'Frequencies of the UFP-QAPP and of the US Department of Defense, QSM; action tables of the functional guidelines',
    source: 'Not read',
    because: 'One duplicate in 20 was read in a plan, which stands among the rules.',
  },
];
