#include "config.h"

#include "tpt-codes-private.h"

#include "tpt-records.h"

/* Readable in a table, and unique through its number. */
static char *
make_code (TptStore *store, TptRecord *record, GError **error)
{
  TptTableId table = tpt_record_get_table (record)->id;
  TptInstant at = tpt_record_get_instant (record, table == TPT_TABLE_DEPLOYMENTS ? "start" : "at");
  g_autofree char *time = tpt_instant_format (at != TPT_NO_INSTANT ? at : tpt_store_get_now (store), tpt_store_get_zone (store));
  const char *owner = tpt_record_get_text (record, table == TPT_TABLE_UNIT_LOG ? "unit" : "station");
  g_autofree char *stem = g_strdup_printf ("%s-%.10s", owner != NULL ? owner : "", time);

  return tpt_store_make_code (store, table, stem, error);
}

/* cells-AA-01: what it is, and its size where it has one. */
static char *
make_stock_code (TptStore *store, TptRecord *record, GError **error)
{
  const char *what = tpt_record_get_text (record, "what"), *size = tpt_record_get_text (record, "cell_size");
  g_autofree char *stem = g_strjoin ("-", what != NULL ? what : "stock", size, NULL);

  return tpt_store_make_code (store, TPT_TABLE_STOCK, stem, error);
}

gboolean
tpt_codes_give (TptStore *store, TptRecord *record, GError **error)
{
  g_autofree char *code = NULL;

  if (tpt_record_get_code (record) != NULL)
    return TRUE;
  code = tpt_record_get_table (record)->id == TPT_TABLE_STOCK ? make_stock_code (store, record, error)
                                                              : make_code (store, record, error);
  if (code == NULL)
    return FALSE;
  tpt_record_set_text (record, tpt_record_get_table (record)->columns[0].name, code);
  return TRUE;
}
