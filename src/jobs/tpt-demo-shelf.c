#include "config.h"

#include "tpt-demo-private.h"

/* What lies in the store room, by the piece. */
static const struct {
  const char *item;
  const char *what;
  const char *label;
  const char *size, *chemistry;
  double mah, gigabytes;
  gint64 pieces;
  const char *place;
  const char *notes;
} stock[] = {
  { "S-01", "cells", NULL, "AA", "nimh", 2000, 0, 32, "charged tray", "two sets of eight to a bag, by age" },
  { "S-02", "cells", NULL, "AA", "alkaline", 2500, 0, 52, "blue box", NULL },
  { "S-03", "cells", NULL, "AA", "lithium", 3000, 0, 8, "blue box", "for the ridge in the cold months of the dry season" },
  { "S-04", "card", NULL, NULL, NULL, 0, 32, 3, "card wallet", NULL },
  { "S-05", "housing", "Steel box, seals renewed", NULL, NULL, 0, 0, 2, "top shelf", NULL },
  { "S-06", "desiccant", "Silica gel, 10 g bags", NULL, NULL, 0, 0, 40, "dry tin", "dried on 1 June" },
  { "S-07", "tape", "Self-amalgamating tape", NULL, NULL, 0, 0, 4, "tool bag", NULL },
};

/* What was done to units at the bench. */
static const struct {
  const char *entry, *unit, *at, *what, *by, *notes;
} bench[] = {
  { "B-01", "K-93", "2026-03-02T15:00", "check", "Mira", "left running for a week on the veranda, no fault" },
  { "B-02", "K-14", "2026-04-14T10:30", "cleaning", "Jau", "mould on the seal; seal greased, window wiped" },
  { "B-03", "K-14", "2026-04-20T16:00", "check", "Mira", "shutter fires, clock keeps time" },
};

static gboolean
write_goods (TptDemo *demo, gsize i, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_STOCK);

  tpt_record_set_text (record, "item", stock[i].item);
  tpt_record_set_text (record, "what", stock[i].what);
  tpt_record_set_text (record, "label", stock[i].label);
  tpt_record_set_text (record, "cell_size", stock[i].size);
  tpt_record_set_text (record, "chemistry", stock[i].chemistry);
  if (stock[i].mah > 0)
    tpt_record_set_real (record, "cell_mah", stock[i].mah);
  if (stock[i].gigabytes > 0)
    tpt_record_set_real (record, "capacity_gb", stock[i].gigabytes);
  tpt_record_set_integer (record, "pieces", stock[i].pieces);
  tpt_record_set_text (record, "place", stock[i].place);
  tpt_record_set_text (record, "notes", stock[i].notes);
  return tpt_demo_save (demo, record, error);
}

static gboolean
write_bench (TptDemo *demo, gsize i, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_UNIT_LOG);

  tpt_record_set_text (record, "entry", bench[i].entry);
  tpt_record_set_text (record, "unit", bench[i].unit);
  if (!tpt_record_set_from_string (record, "at", bench[i].at, tpt_store_get_zone (demo->store), error))
    return FALSE;
  tpt_record_set_text (record, "what", bench[i].what);
  tpt_record_set_text (record, "by", bench[i].by);
  tpt_record_set_text (record, "notes", bench[i].notes);
  return tpt_demo_save (demo, record, error);
}

gboolean
tpt_demo_write_shelf (TptDemo *demo, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS (stock); i++)
    if (!write_goods (demo, i, error))
      return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (bench); i++)
    if (!write_bench (demo, i, error))
      return FALSE;
  return TRUE;
}
