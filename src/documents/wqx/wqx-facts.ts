import type { WqxActivityKind } from './activity-types.ts';

export interface WqxMeasure {
  readonly value: string;
  readonly unit: string;
}

export interface WqxMethod {
  readonly identifier: string;
  readonly context: string;
  readonly name?: string;
}

/** An instant, and the zone by whose clocks it is told. */
export interface WqxTime {
  readonly at: string;
  readonly timeZone: string;
}

export interface WqxWell {
  readonly identifier: string;
  readonly name: string;
  readonly description?: string;
  readonly latitude?: string;
  readonly longitude?: string;
  readonly horizontalMethod?: string;
  readonly horizontalDatum?: string;
  readonly countryCode?: string;
  readonly stateCode?: string;
  readonly countyCode?: string;
  readonly wellType?: string;
  readonly aquiferType?: string;
  readonly formationType?: string;
  readonly holeDepth?: WqxMeasure;
  readonly constructionDate?: string;
  readonly wellDepth?: WqxMeasure;
}

export interface WqxLimit {
  readonly type: string;
  readonly measure: WqxMeasure;
}

export interface WqxResult {
  /** What is said of it where it cannot be exported. */
  readonly id: string;
  /**
   * A quantity that was measured in the field, by the name of its field in a record; or a characteristic by its name in
   * the exchange's list, as the project's own table gives it. Its spelling is not guessed from an analyte's name.
   */
  readonly of:
    | { readonly quantity: string }
    | { readonly characteristic: string | undefined; readonly analyte: string };
  readonly value?: string;
  /** For a characteristic; a quantity brings its own. */
  readonly unit?: string;
  readonly condition?: string;
  readonly qualifiers?: readonly string[];
  readonly fraction?: string;
  readonly status: string;
  readonly valueType: string;
  readonly temperatureBasis?: string;
  readonly comment?: string;
  readonly method?: WqxMethod;
  readonly laboratory?: string;
  readonly analyzed?: WqxTime;
  readonly limits?: readonly WqxLimit[];
}

export interface WqxActivity {
  readonly identifier: string;
  readonly kind: WqxActivityKind;
  readonly projects: readonly string[];
  /** The identifier of the well; blanks need none. */
  readonly well?: string;
  readonly began: WqxTime;
  readonly ended?: WqxTime;
  readonly blankWater?: 'deionized';
  readonly depth?: WqxMeasure;
  readonly conductedBy?: string;
  readonly comment?: string;
  readonly collection?: { readonly method: WqxMethod; readonly equipment: string; readonly equipmentComment?: string };
  readonly container?: {
    readonly label?: string;
    readonly type?: string;
    readonly color?: string;
    readonly preservative?: string;
    readonly cooling?: string;
    readonly transport?: string;
  };
  readonly results: readonly WqxResult[];
}

export interface WqxFacts {
  readonly organization: { readonly identifier: string; readonly name: string; readonly description?: string };
  readonly projects: readonly { readonly identifier: string; readonly name: string; readonly description?: string }[];
  readonly wells: readonly WqxWell[];
  readonly activities: readonly WqxActivity[];
}

/** What is not in the export, and why. */
export interface NotExported {
  readonly what: string;
  readonly why: string;
}
