-- One bottle may serve several groups of analytes: its clock is that of the first, the others are named beside it.
alter table container add column also_groups text[];
