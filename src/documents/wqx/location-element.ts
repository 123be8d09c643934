import { type Element, shape } from './element.ts';
import { measureFaults, measureFilling } from './result-element.ts';
import type { NotExported, WqxWell } from './wqx-facts.ts';
import { LOCATION } from './wqx-schema.ts';

/** What the exchange asks of a location, in words. */
const NEEDED = {
  latitude: 'latitude',
  longitude: 'longitude',
  horizontalMethod: 'horizontal collection method',
  horizontalDatum: 'horizontal datum',
} as const;

function within(text: string | undefined, most: number): boolean {
  return text === undefined || (/^-?\d+(?:\.\d+)?$/.test(text) && Math.abs(Number(text)) <= most);
}

function faultsOf(well: WqxWell): readonly string[] {
  const missing = Object.entries(NEEDED).filter(([field]) => !well[field as keyof typeof NEEDED]);
  return [
    ...missing.map(([, name]) => `it has no ${name}`),
    ...(within(well.latitude, 90) ? [] : [`the latitude "${well.latitude}" is not between -90 and 90 degrees`]),
    ...(within(well.longitude, 180) ? [] : [`the longitude "${well.longitude}" is not between -180 and 180 degrees`]),
    ...measureFaults(well.holeDepth, 'the depth of the hole'),
    ...measureFaults(well.wellDepth, 'the depth of the well'),
  ];
}

/** One well as a monitoring location. The screen has no element in the exchange. */
export function locationElement(well: WqxWell): {
  readonly elements: readonly Element[];
  readonly notExported: readonly NotExported[];
} {
  const { elements, faults } = shape(LOCATION, {
    MonitoringLocationIdentity: {
      MonitoringLocationIdentifier: well.identifier,
      MonitoringLocationName: well.name,
      MonitoringLocationTypeName: 'Well',
      MonitoringLocationDescriptionText: well.description,
    },
    MonitoringLocationGeospatial: {
      LatitudeMeasure: well.latitude,
      LongitudeMeasure: well.longitude,
      HorizontalCollectionMethodName: well.horizontalMethod,
      HorizontalCoordinateReferenceSystemDatumName: well.horizontalDatum,
      CountryCode: well.countryCode,
      StateCode: well.stateCode,
      CountyCode: well.countyCode,
    },
    WellInformation: {
      WellTypeText: well.wellType,
      AquiferTypeName: well.aquiferType,
      FormationTypeText: well.formationType,
      WellHoleDepthMeasure: measureFilling(well.holeDepth),
      ConstructionDate: well.constructionDate,
      WellDepthMeasure: measureFilling(well.wellDepth),
    },
  });
  const all = [...faultsOf(well), ...faults];
  if (all.length === 0) return { elements, notExported: [] };
  return { elements: [], notExported: [{ what: `well ${well.identifier}`, why: all.join('; ') }] };
}
