import { NEST } from './site.ts';

export interface PointData {
  readonly description: string;
  readonly elevationFt: string;
  readonly validFrom: string;
  readonly change: 'first' | 'error-corrected' | 'casing-changed';
}

export interface WellData {
  readonly name: string;
  readonly nest?: string;
  /** Depths below the measuring point unless it says ground. */
  readonly ground?: true;
  readonly depths: { readonly total: string; readonly screenTop: string; readonly screenBottom: string };
  readonly stickUpFt: string;
  readonly casing?: '2-inch' | '4-inch';
  readonly flows?: true;
  readonly purgesDry?: true;
  readonly built: string;
  readonly remark?: string;
  readonly points: readonly PointData[];
  readonly aliases?: readonly { readonly name: string; readonly usedBy: string }[];
}

const RIM = 'Notch on the north side of the casing rim';

function point(elevationFt: string, year = '2019'): PointData {
  return { description: RIM, elevationFt, validFrom: `${year}-06-04T09:00:00-05:00`, change: 'first' };
}

function depths(total: string, screenTop: string): WellData['depths'] {
  return { total, screenTop, screenBottom: total };
}

/** The network: a nested pair, a well that flows, one that purges dry, and flush mounts in the yard. All invented. */
export const WELLS = [
  { name: 'MW-1', depths: depths('32.5', '22.5'), stickUpFt: '2.40', built: '2019-05-06', points: [point('102.31')] },
  { name: 'MW-2', depths: depths('34.8', '24.8'), stickUpFt: '2.35', built: '2019-05-07', points: [point('103.02')] },
  {
    name: 'MW-3',
    ground: true,
    depths: depths('38.7', '28.7'),
    stickUpFt: '2.50',
    built: '2019-05-08',
    points: [
      point('104.77'),
      {
        description: RIM,
        elevationFt: '104.17',
        validFrom: '2024-03-19T10:00:00-05:00',
        change: 'error-corrected',
      },
    ],
    remark: 'Two digits of the elevation were swapped in the first survey; found by levelling again in 2024.',
  },
  {
    name: 'MW-4S',
    nest: NEST,
    depths: depths('25.3', '15.3'),
    stickUpFt: '2.55',
    built: '2019-05-09',
    points: [point('101.90')],
    aliases: [{ name: 'B-4A', usedBy: 'boring logs of 2018' }],
  },
  {
    name: 'MW-4D',
    nest: NEST,
    depths: depths('61.8', '51.8'),
    stickUpFt: '2.48',
    built: '2019-05-10',
    points: [point('101.84')],
    aliases: [{ name: 'B-4B', usedBy: 'boring logs of 2018' }],
  },
  {
    name: 'MW-5',
    depths: depths('38.0', '28.0'),
    stickUpFt: '-0.35',
    built: '2019-05-13',
    points: [{ ...point('98.42'), description: 'Black mark on the rim of the inner casing' }],
    remark: 'Flush mount in the yard; vault bolts 9/16 in.',
  },
  {
    name: 'MW-6',
    depths: depths('22.4', '12.4'),
    stickUpFt: '2.20',
    purgesDry: true,
    built: '2019-05-14',
    points: [point('100.12')],
    remark: 'Screened in tight clay.',
  },
  {
    name: 'MW-7',
    depths: depths('88.0', '78.0'),
    stickUpFt: '3.10',
    flows: true,
    built: '2019-05-16',
    points: [point('97.05')],
    remark: 'Flows through the side valve; open it a quarter turn.',
  },
  { name: 'MW-8', depths: depths('45.6', '35.6'), stickUpFt: '2.44', built: '2019-05-20', points: [point('106.60')] },
  { name: 'MW-9', depths: depths('29.9', '19.9'), stickUpFt: '2.31', built: '2019-05-21', points: [point('100.88')] },
  {
    name: 'MW-10',
    depths: depths('52.4', '42.4'),
    stickUpFt: '2.62',
    built: '2020-09-14',
    points: [point('107.35', '2020')],
  },
  {
    name: 'MW-11',
    depths: depths('36.7', '26.7'),
    stickUpFt: '-0.40',
    built: '2020-09-15',
    points: [{ ...point('98.11', '2020'), description: 'Black mark on the rim of the inner casing' }],
    remark: 'Flush mount beside the loading dock.',
  },
  {
    name: 'MW-12',
    depths: depths('48.3', '38.3'),
    stickUpFt: '2.70',
    casing: '4-inch',
    built: '2020-09-16',
    points: [point('105.02', '2020')],
  },
  {
    name: 'MW-13',
    depths: depths('31.5', '21.5'),
    stickUpFt: '2.28',
    built: '2020-09-17',
    points: [point('102.96', '2020')],
    aliases: [{ name: 'GW-GATE', usedBy: 'the laboratory, up to 2022' }],
  },
  {
    name: 'MW-14',
    depths: depths('33.3', '23.3'),
    stickUpFt: '2.37',
    built: '2020-09-21',
    points: [point('103.40', '2020')],
  },
  {
    name: 'MW-15',
    depths: depths('40.4', '30.4'),
    stickUpFt: '2.51',
    built: '2020-09-22',
    points: [point('104.09', '2020')],
  },
] as const satisfies readonly WellData[];

export type WellName = (typeof WELLS)[number]['name'];
