/** A document on decontamination that is no protocol here, and why: steps that had to be guessed would clean nothing. */
export interface DeconNotUsable {
  readonly id: string;
  readonly document: string;
  readonly source: string;
  readonly because: string;
}

export const DECON_NOT_USABLE: readonly DeconNotUsable[] = [
  {
    id: 'epa-1992-organics',
    document: 'US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, list for organics',
    source: 'p. 7-17 of the document, which was not seen; p. 7-18 was',
    because: 'The page with the list for organics was not seen. The guidance of California has a list of its own.',
  },
  {
    id: 'epa-region-4-pumps',
    document: 'US EPA Region 4, SESDPROC-205-R3 (18 Dec 2015) and LSASDPROC-205-R4 (22 Jun 2020), pumps',
    source: 'Their histories and general parts, read in copies',
    because:
      'The histories name sections for 12 V submersible pumps, bladder pumps and rented pumps, and the solvent rinse as an alternative; their steps were not read.',
  },
  {
    id: 'epa-region-1-later-revisions',
    document: 'US EPA Region 1, EQASOP-GW4 (later revisions of SOP GW 0001)',
    source: 'Not read',
    because: 'The steps of the later revisions were not read.',
  },
  {
    id: 'usgs-a3-pumps',
    document: 'US Geological Survey, National Field Manual, chapter A3, volumes pumped through submersible pumps',
    source: 'Not read beyond the start of figure 3-1',
    because: 'How much of each fluid is pumped through was not recovered.',
  },
  {
    id: 'pfas-guide-tables',
    document: 'Step lists of the state guides on PFAS, each by itself',
    source: 'Not read',
    because: 'What they have in common is recalled; the lists themselves, and where they differ, were not read.',
  },
  {
    id: 'astm-d5088',
    document: 'ASTM D5088-02 (2008), Decontamination of Field Equipment Used at Waste Sites',
    source: 'Section 5 as shown in a preview',
    because: 'Only when to decontaminate was read, which stands among the rules of when; its procedures were not.',
  },
  {
    id: 'crrel-hot-wash',
    document: 'US Army CRREL, Special Report 97-25, hot detergent wash, hot tap rinse, deionized rinse',
    source: 'https://coldregionsresearch.tpub.com/SR97_25/SR97_250011.htm',
    because: 'A study of what works, made in a laboratory, and no procedure for the field.',
  },
  {
    id: 'tubing-heated-overnight',
    document: 'A sampling plan in a California county file: tubing heated overnight, surfaces steam cleaned',
    source: 'county file, doc 600016, page 102',
    because: 'Heating tubing overnight under clean air is work of a laboratory, and parts that take up are replaced.',
  },
  {
    id: 'colorado-plan-without-steps',
    document: 'Monitoring well sampling procedure in a Colorado state file',
    source: 'Colorado state file, doc 936441, page 62',
    because: 'It refers to another procedure for the steps and leaves its number open.',
  },
];
