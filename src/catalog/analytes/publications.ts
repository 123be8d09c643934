/** Where a statement was published, and whether it was read there or in the copy named. */
export interface Publication {
  readonly source: string;
  /** Date of the edition, as exactly as it is known. */
  readonly dated: string;
  readonly verified: boolean;
}

/** What is recalled and was not read: an editable default. */
export function recalled(document: string): Publication {
  return { source: `${document}, from memory`, dated: 'not read', verified: false };
}

function read(source: string, dated = 'not told'): Publication {
  return { source, dated, verified: true };
}

/** Documents that several groups and rules rest on. */
export const PUBLICATIONS = {
  tableII2014: read('40 CFR 136.3, Table II, copied in Florida DEP, Table FS1000-4, read in a copy', '2014-03-01'),
  tableII1995: read('40 CFR 136.3, Table II as of 1 July 1995, read in a copy', '1995-07-01'),
  tableIIRecalled: recalled('40 CFR 136.3, Table II'),
  sw846Answers: read(
    'US EPA, SW-846, questions and answers on holding times and preservation (Method 1311, section 8.5), snapshot',
    '2021-01-19',
  ),
  sw846Recalled: recalled('US EPA, SW-846, chapters 3 and 4, tables of holding times'),
  planWithOrganics: read('a sampling plan, county file, doc 588344, page 20'),
  planWithMetals: read('a sampling plan, county file, doc 441390, page 363'),
  planWithHerbicides: read('a sampling plan, county file, doc 600387, page 147'),
  fieldManual561: read('US Geological Survey, National Field Manual, chapter A5, 5.6.1'),
  fieldManualRates: read('US Geological Survey, National Field Manual, chapter A4, 4.2, in NEMI method 9501', '2006'),
  epa1992Order: read(
    'US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, p. 7-18, after Barcelona 1985, read in a copy',
    '1992-11',
  ),
  epa1992Filling: read(
    'US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, p. 7-19, read in a copy',
    '1992-11',
  ),
  region1Page8: read(
    'US EPA Region 1, SOP GW 0001, rev. 2, p. 8, in a mine permit file of Colorado, doc 504322, page 24',
    '1996-07-30',
  ),
  advisoryOnFiltering: read('US EPA, Science Advisory Board, letter EEC-LTR-97-011', '1997-09-05'),
  usualRequest: recalled('usual request of laboratories'),
  commonPractice: { source: 'common practice, no source', dated: 'none', verified: false },
} as const satisfies Readonly<Record<string, Publication>>;
