-- The first and the last reading of a meter in a purge are looked for with every push that begins a purge. A statement
-- that was planned while the table was small kept to the index by purge, and sorted all its readings each time.
drop index reading_by_purge;
create index reading_by_purge on reading (firm, purge, observed_at, id);
