/**
 * The elements of the Water Quality Exchange that this export fills, each below its parent in the order of the schema,
 * with the longest text of a leaf in characters. EPA, WQX schema version 3.0,
 * http://www.exchangenetwork.net/schema/wqx/3
 */
export const WQX_NAMESPACE = 'http://www.exchangenetwork.net/schema/wqx/3';

export interface ElementRule {
  readonly name: string;
  readonly longest?: number;
  readonly children?: readonly ElementRule[];
}

const leaf = (name: string, longest: number): ElementRule => ({ name, longest });
const branch = (name: string, ...children: readonly ElementRule[]): ElementRule => ({ name, children });

const measure = (name: string) => branch(name, leaf('MeasureValue', 60), leaf('MeasureUnitCode', 12));
const time = (name: string) => branch(name, leaf('Time', 8), leaf('TimeZoneCode', 4));
const date = (name: string) => leaf(name, 10);
const method = (name: string) =>
  branch(name, leaf('MethodIdentifier', 35), leaf('MethodIdentifierContext', 120), leaf('MethodName', 250));

export const ORGANIZATION = branch(
  'OrganizationDescription',
  leaf('OrganizationIdentifier', 35),
  leaf('OrganizationFormalName', 255),
  leaf('OrganizationDescriptionText', 500),
);

export const PROJECT = branch(
  'Project',
  leaf('ProjectIdentifier', 55),
  leaf('ProjectName', 512),
  leaf('ProjectDescriptionText', 4_000),
);

export const LOCATION = branch(
  'MonitoringLocation',
  branch(
    'MonitoringLocationIdentity',
    leaf('MonitoringLocationIdentifier', 55),
    leaf('MonitoringLocationName', 255),
    leaf('MonitoringLocationTypeName', 45),
    leaf('MonitoringLocationDescriptionText', 4_000),
  ),
  branch(
    'MonitoringLocationGeospatial',
    leaf('LatitudeMeasure', 13),
    leaf('LongitudeMeasure', 15),
    leaf('HorizontalCollectionMethodName', 150),
    leaf('HorizontalCoordinateReferenceSystemDatumName', 6),
    leaf('CountryCode', 2),
    leaf('StateCode', 2),
    leaf('CountyCode', 3),
  ),
  branch(
    'WellInformation',
    leaf('WellTypeText', 255),
    leaf('AquiferTypeName', 255),
    leaf('FormationTypeText', 50),
    measure('WellHoleDepthMeasure'),
    date('ConstructionDate'),
    measure('WellDepthMeasure'),
  ),
);

export const ACTIVITY = branch(
  'ActivityDescription',
  leaf('ActivityIdentifier', 55),
  leaf('ActivityTypeCode', 70),
  leaf('ActivityMediaName', 20),
  leaf('ActivityMediaSubdivisionName', 60),
  date('ActivityStartDate'),
  time('ActivityStartTime'),
  date('ActivityEndDate'),
  time('ActivityEndTime'),
  measure('ActivityDepthHeightMeasure'),
  leaf('ProjectIdentifier', 55),
  leaf('ActivityConductingOrganizationText', 120),
  leaf('MonitoringLocationIdentifier', 55),
  leaf('ActivityCommentText', 4_000),
);

export const SAMPLE = branch(
  'SampleDescription',
  method('SampleCollectionMethod'),
  leaf('SampleCollectionEquipmentName', 60),
  leaf('SampleCollectionEquipmentCommentText', 4_000),
  branch(
    'SamplePreparation',
    leaf('SampleContainerLabelName', 60),
    leaf('SampleContainerTypeName', 60),
    leaf('SampleContainerColorName', 60),
    leaf('ChemicalPreservativeUsedName', 250),
    leaf('ThermalPreservativeUsedName', 250),
    leaf('SampleTransportStorageDescription', 1_999),
  ),
);

export const RESULT = branch(
  'Result',
  branch(
    'ResultDescription',
    leaf('ResultDetectionConditionText', 35),
    leaf('CharacteristicName', 255),
    leaf('ResultSampleFractionText', 25),
    branch(
      'ResultMeasure',
      leaf('ResultMeasureValue', 60),
      leaf('MeasureUnitCode', 12),
      leaf('MeasureQualifierCode', 35),
    ),
    leaf('ResultStatusIdentifier', 12),
    leaf('ResultValueTypeName', 20),
    leaf('ResultTemperatureBasisText', 12),
    leaf('ResultCommentText', 4_000),
  ),
  method('ResultAnalyticalMethod'),
  branch(
    'ResultLabInformation',
    leaf('LaboratoryName', 60),
    date('AnalysisStartDate'),
    time('AnalysisStartTime'),
    branch(
      'ResultDetectionQuantitationLimit',
      leaf('DetectionQuantitationLimitTypeName', 35),
      measure('DetectionQuantitationLimitMeasure'),
    ),
  ),
);
