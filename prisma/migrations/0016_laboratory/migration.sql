-- A laboratory has tokens of its own: each names the record of the laboratory, and no other role has one.
alter table token
  drop constraint token_role_check,
  add column laboratory uuid,
  add constraint token_role_check check (role in ('crew', 'coordinator', 'dashboard', 'admin', 'laboratory')),
  add constraint token_laboratory_check check ((role = 'laboratory') = (laboratory is not null)),
  add foreign key (firm, laboratory) references laboratory (firm, id);

-- Which laboratory says so, and what its report tells of a result beside the figure.
alter table sample_receipt
  add column laboratory uuid,
  add column received_by text,
  add foreign key (firm, laboratory) references laboratory (firm, id);

alter table discrepancy
  add column receipt uuid,
  add column laboratory uuid,
  add foreign key (firm, receipt) references sample_receipt (firm, id),
  add foreign key (firm, laboratory) references laboratory (firm, id);
create index discrepancy_by_receipt on discrepancy (firm, receipt) where receipt is not null;

alter table laboratory_result
  add column fraction text,
  add column extracted timestamptz,
  add column dilution measure,
  add column laboratory uuid,
  add foreign key (firm, laboratory) references laboratory (firm, id);
