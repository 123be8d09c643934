/** A document whose criteria are not in the catalog, and why: a set that had to be guessed would decide wells. */
export interface NotUsable {
  readonly id: string;
  readonly document: string;
  readonly source: string;
  readonly because: string;
}

export const criteriaNotUsable: readonly NotUsable[] = [
  {
    id: 'california-dtsc-2008',
    document: 'California DTSC, Representative Sampling of Ground Water for Hazardous Substances (1995, rev. 2008)',
    source: 'From memory, low confidence',
    because:
      'Its conductance limit is recalled as 3 to 5 %, which is no single number, and the rest with low confidence.',
  },
  {
    id: 'iso-5667-11-2009',
    document: 'ISO 5667-11:2009 and AS/NZS 5667.11:1998',
    source: 'Not read',
    because: 'No figure was recovered; it relies mainly on stability that is set for the site.',
  },
  {
    id: 'usgs-field-manual-a6',
    document: 'USGS National Field Manual, chapters A6.0 and A6.8 (2023)',
    source: 'https://pubs.usgs.gov/tm/09/a6.8/tm9a6.8_versionHist.txt',
    because:
      'Only the dissolved-oxygen limit of A6.0 is recalled apart from A4, and the figures of the 2023 edition were not read.',
  },
  {
    id: 'county-repeated-readings',
    document: 'Protocol in a California county file, doc 537390',
    source: 'https://lfweb.sjgov.org/EHD/0/doc/537390/Page12.aspx',
    because: 'It asks for "repeated" readings and gives no number of them.',
  },
  {
    id: 'county-three-to-five-volumes',
    document: 'Protocol in a California county file, doc 611862',
    source: 'https://lfweb.sjgov.org/EHD/0/doc/611862/Page25.aspx',
    because: 'It gives no number of readings, and 3 to 5 casing volumes, which is no single number.',
  },
  {
    id: 'army-depot-sop-009',
    document: 'Army depot procedure SOP-009, Rev. 1, April 2019',
    source: 'https://lfweb.sjgov.org/EHD/0/doc/798934/Page97.aspx',
    because: 'Its criteria are not in the part that was seen. Its cap of 6 readings is a limit that a plan can give.',
  },
  {
    id: 'epa-region-4-later-revisions',
    document: 'US EPA Region 4, LSASDPROC-301 (later revisions of SESDPROC-301)',
    source: 'https://de.scribd.com/document/334011810/US-EPA-SESD-PROC-301-R3-Groundwater-Sampling',
    because: 'Only the revision of 2013 is recalled; the limits of the later ones were not read.',
  },
];
