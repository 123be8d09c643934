-- Whether a number is on another sample of the event too is asked at each sample: found by the number, and not by going
-- through all visits of the event (5 ms at 2,000 visits).
create index sample_by_number on sample (firm, number) where number is not null;
