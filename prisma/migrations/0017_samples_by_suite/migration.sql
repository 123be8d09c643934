-- What is asked about a container goes by the analyte suite that it is for: found by its name from either side.
create index analyte_suite_by_name on analyte_suite (firm, name) where name is not null;
create index container_by_suite on container (firm, suite) where suite is not null;
