import { PUBLICATIONS, type Publication } from './publications.ts';

/** Groups that one bottle may serve, where the laboratory agrees. */
export interface SharedBottle extends Publication {
  readonly id: string;
  readonly title: string;
  /** Ids of groups. */
  readonly groups: readonly string[];
}

export const SHARED_BOTTLES: readonly SharedBottle[] = [
  {
    ...PUBLICATIONS.commonPractice,
    id: 'with-sulfuric-acid',
    title: 'One bottle with sulfuric acid',
    groups: ['ammonia', 'kjeldahl-nitrogen', 'nitrate-plus-nitrite', 'phosphorus-total', 'chemical-oxygen-demand'],
  },
  {
    ...PUBLICATIONS.commonPractice,
    id: 'nothing-added',
    title: 'One plastic bottle with nothing added',
    groups: ['chloride', 'sulfate', 'fluoride', 'alkalinity', 'dissolved-solids', 'nitrate'],
  },
];
