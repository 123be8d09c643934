import type {
  AnalyteGroup,
  ContainerMaterial,
  Filtration,
  HoldingLimit,
  Preservative,
  Stated,
} from './analyte-group.ts';

/** What a programme or a project may set otherwise than the documents have it. */
export interface GroupSettings {
  readonly containerCount: number;
  readonly containerVolumeMl: number;
  readonly materials: readonly ContainerMaterial[];
  readonly preservatives: readonly (readonly Preservative[])[];
  readonly coolToAtMostC: string | null;
  readonly filtration: Filtration;
  /** Null where no document gives one. */
  readonly fillRateAtMostMlPerMin: number | null;
  /** A name of the group; its limits come with it. */
  readonly holdingVariant: string;
  readonly holdingLimits: readonly HoldingLimit[];
  readonly shortWaterPriority: number;
  readonly leastCount: number;
  readonly leastVolumeMl: number;
}
export type SettingName = keyof GroupSettings;

export const SETTING_LAYERS = ['regulation', 'programme', 'project'] as const;
export type SettingLayer = (typeof SETTING_LAYERS)[number];

export interface Setting<T> {
  readonly value: T;
  /** Who has the last word on it. */
  readonly layer: SettingLayer;
  readonly source: string;
  readonly verified: boolean;
  readonly reason?: string;
  readonly approvedBy?: string;
}

export type ResolvedSettings = { readonly [Name in SettingName]: Setting<GroupSettings[Name]> };

export interface ProgrammeDefaults {
  /** The document of the programme. */
  readonly source: string;
  readonly verified: boolean;
  readonly settings: Partial<GroupSettings>;
}

/** A setting of one project; the last of several for one setting holds. */
export type ProjectOverride = {
  readonly [Name in SettingName]: {
    readonly setting: Name;
    readonly value: GroupSettings[Name];
    readonly reason: string;
    readonly approvedBy: string;
  };
}[SettingName];

export interface NotApplied {
  readonly layer: SettingLayer;
  readonly setting: SettingName;
  readonly because: 'no-reason' | 'no-approver' | 'no-such-variant';
}

export interface SettingsAnswer {
  readonly settings: ResolvedSettings;
  readonly notApplied: readonly NotApplied[];
}

function regulation<T>({ source, verified }: Stated, value: T): Setting<T> {
  return { value, layer: 'regulation', source, verified };
}

/** The settings of a group as its documents have them. */
export function documentSettings(group: AnalyteGroup): ResolvedSettings {
  const { container, preservation, cooling, filtration, filling, shortWater } = group;
  const [holding] = group.holding;
  if (!holding) throw new Error(`the group ${group.id} has no holding time: give it one, or list it as not usable`);
  return {
    containerCount: regulation(container.bottles, container.bottles.count),
    containerVolumeMl: regulation(container.bottles, container.bottles.volumeMl),
    materials: regulation(container, container.materials),
    preservatives: regulation(preservation, preservation.anyOf),
    coolToAtMostC: regulation(cooling, cooling.atMostC),
    filtration: regulation(filtration, filtration.filter),
    fillRateAtMostMlPerMin: regulation(filling.rate ?? filling, filling.rate?.atMostMlPerMin ?? null),
    holdingVariant: regulation(holding, holding.id),
    holdingLimits: regulation(holding, holding.limits),
    shortWaterPriority: regulation(shortWater, shortWater.priority),
    leastCount: regulation(shortWater, shortWater.leastCount),
    leastVolumeMl: regulation(shortWater, shortWater.leastVolumeMl),
  };
}

type Values = Partial<{ [Name in SettingName]: Setting<unknown> }>;
type Said = Omit<Setting<unknown>, 'value'>;

/** One setting with what comes with it: a variant brings its limits. Null for a variant that the group does not have. */
function withLimits(group: AnalyteGroup, name: SettingName, value: unknown, said: Said): Values | null {
  if (name !== 'holdingVariant') return { [name]: { ...said, value } };
  const variant = group.holding.find(({ id }) => id === value);
  return variant ? { holdingVariant: { ...said, value }, holdingLimits: { ...said, value: variant.limits } } : null;
}

/** A variant before its limits, so that limits which are given as well hold. */
function variantFirst(name: SettingName): number {
  return name === 'holdingVariant' ? 0 : 1;
}

interface Change {
  readonly setting: SettingName;
  readonly value: unknown;
  readonly said: Said;
  readonly fault: NotApplied['because'] | null;
}

function inOrder(changes: readonly Change[]): readonly Change[] {
  return changes.toSorted((a, b) => variantFirst(a.setting) - variantFirst(b.setting));
}

function programmeChanges({ source, verified, settings }: ProgrammeDefaults): readonly Change[] {
  const said = { layer: 'programme', source, verified } as const;
  const entries = Object.entries(settings) as [SettingName, unknown][];
  const given = entries.filter(([, value]) => value !== undefined);
  return inOrder(given.map(([setting, value]) => ({ setting, value, said, fault: null })));
}

function faultOf({ reason, approvedBy }: ProjectOverride): Change['fault'] {
  if (reason.trim() === '') return 'no-reason';
  return approvedBy.trim() === '' ? 'no-approver' : null;
}

function projectChanges(overrides: readonly ProjectOverride[]): readonly Change[] {
  return inOrder(
    overrides.map((override) => {
      const { setting, value, reason, approvedBy } = override;
      const said = { layer: 'project', source: 'the plan of the project', verified: true, reason, approvedBy } as const;
      return { setting, value, said, fault: faultOf(override) };
    }),
  );
}

/**
 * What holds for a group: the documents, over them the programme, over that the project with its reason and approver.
 * An override without either is not applied and is told, so that nobody takes a default for an approved deviation.
 */
export function resolveSettings(
  group: AnalyteGroup,
  programme: ProgrammeDefaults | null,
  overrides: readonly ProjectOverride[],
): SettingsAnswer {
  const notApplied: NotApplied[] = [];
  const values: Values = {};
  for (const { setting, value, said, fault } of [
    ...(programme ? programmeChanges(programme) : []),
    ...projectChanges(overrides),
  ]) {
    const given = fault ? null : withLimits(group, setting, value, said);
    if (given) Object.assign(values, given);
    else notApplied.push({ layer: said.layer, setting, because: fault ?? 'no-such-variant' });
  }
  // Each value was typed with its name where it came in; under one name only values of that name are merged.
  return { settings: { ...documentSettings(group), ...values } as ResolvedSettings, notApplied };
}
