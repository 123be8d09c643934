import { CALM, type Features } from './features.ts';

/** A world in which something was found once; it is played in every run, of the size that its seed had then. */
export interface Pinned {
  readonly seed: number;
  readonly features: Partial<Features>;
  readonly found: string;
}

const RESTORED = { phones: 3, steps: 90, network: 0.3, restoredPhone: true, setBack: 'never', drowned: false } as const;
const DROWNED = { phones: 4, steps: 90, network: 0.3, drowned: true, setBack: 'never', restoredPhone: false } as const;

/** Three people in a short and crowded world. */
const CROWDED = { ...CALM, phones: 3, steps: 4, begun: true, haste: 2, lyingClocks: true, deaths: true } as const;

/** All but seeds 878 and 58071840 were faults of the judge, and none of the library or the server; each is a hard world all the same. */
export const PINNED: readonly Pinned[] = [
  {
    seed: 300_020,
    features: { ...RESTORED, voids: true, waits: true },
    found: 'a void whose author saw the visit counted again by another, and went on with it',
  },
  {
    seed: 300_100,
    features: { ...RESTORED, voids: true, waits: true },
    found: 'a value that was chosen in a conflict, and replaced later by the one who chose it',
  },
  {
    seed: 300_090,
    features: { ...DROWNED, voids: true, waits: true, rehomes: true },
    found: 'a line that only a partner heard of, while its own phone wrote it anew',
  },
  {
    seed: 1_004_374,
    features: {},
    found: 'a row that was lost in quiet, and looked for one pull too early',
  },
  {
    seed: 1_005_414,
    features: {},
    found: 'a feed that was emptied in quiet, and looked for one pull too early',
  },
  {
    seed: 1_000_835,
    features: {},
    found: 'a value that one person decided for while another, who had seen it, replaced it',
  },
  {
    seed: 1_017_408,
    features: {},
    found: 'a value that was replaced by somebody whose phone showed a damaged row in its place',
  },
  {
    seed: 2_001_683,
    features: {},
    found:
      'an assignment whose end was dated before its lock was granted: a phone that looked in between was taken to know',
  },
  {
    seed: 878,
    features: {},
    found: 'a value that was pulled while the answer to an own change was lost, and then asked about',
  },
  {
    seed: 50_000_209,
    features: { unheard: 0.6 },
    found: 'a line that one partner was told of, and of which another took a copy later',
  },
  {
    seed: 54_090_081,
    features: {
      ...CROWDED,
      unheard: 0.6,
      drowned: true,
      lent: true,
      moves: true,
      rehomes: true,
      resolves: true,
      waits: true,
    },
    found: 'a copy that was handed in by a phone which follows its event no more, when the office had just looked',
  },
  {
    seed: 56_026_022,
    features: {
      ...CALM,
      phones: 3,
      steps: 10,
      begun: true,
      haste: 2,
      processes: 3,
      commits: 0.1,
      skewedServers: true,
      deaths: true,
      setBack: 'announced',
      drowned: true,
      poison: true,
      waits: true,
      bootstraps: true,
      compacts: true,
    },
    found: 'a line that nobody can read, told of, and then forgotten by a set-back after its phone had drowned',
  },
  {
    seed: 58_071_840,
    features: {
      ...CALM,
      phones: 3,
      steps: 10,
      begun: true,
      haste: 2,
      processes: 3,
      network: 0.25,
      commits: 0.3,
      lyingClocks: true,
      deaths: true,
      setBack: 'silent',
      drowned: true,
      rehomes: true,
      voids: true,
      bootstraps: true,
      equipment: true,
    },
    found: 'a line that its phone kept for ever: told in a history that was set back, it was handed in by a partner',
  },
  {
    seed: 61_720_020,
    features: {
      ...CALM,
      phones: 3,
      steps: 24,
      lyingClocks: true,
      skewedServers: true,
      setBack: 'silent',
      drowned: true,
    },
    found: 'a value that a later line replaced, which two partners had said: one was told that it is set aside',
  },
];
