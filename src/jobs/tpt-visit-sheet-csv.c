/* A visit sheet as a table to fill in and import. */
#include "config.h"

#include "tpt-visit-sheet-private.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>

#include "tpt-csv.h"
#include "tpt-error.h"

static const char *const columns[] = {
  "station", "at",      "people", "found", "camera_clock", "true_clock", "frames_on_card", "left",        "visit_notes", "unit",
  "label",   "kind",    "state",  "volts", "percent",      "action",     "replacement",    "cause",       "notes",       NULL,
};

/* What the program fills in itself. */
static const char *const given[] = { "station", "unit", "label", "kind", NULL };

static gboolean
write_row (TptCsvWriter *writer, const char *station, TptRecord *unit, GError **error)
{
  for (guint i = 0; columns[i] != NULL; i++)
    {
      const char *value = NULL;

      if (g_str_equal (columns[i], "station"))
        value = station;
      else if (unit != NULL && g_strv_contains (given, columns[i]))
        value = tpt_record_get_text (unit, columns[i]);
      tpt_csv_writer_add_text (writer, value);
    }
  return tpt_csv_writer_end_row (writer, error);
}

/* A station without a rig has a row as well: a visit there can be noted. */
static gboolean
write_station (TptCsvWriter *writer, const TptVisitSheet *sheet, GError **error)
{
  const char *station = tpt_station_item_get_code (sheet->item);

  if (sheet->units->len == 0)
    return write_row (writer, station, NULL, error);
  for (guint i = 0; i < sheet->units->len; i++)
    if (!write_row (writer, station, ((TptSheetUnit *) sheet->units->pdata[i])->unit, error))
      return FALSE;
  return TRUE;
}

gboolean
tpt_visit_sheet_write_csv (const char *path, GPtrArray *stations, GError **error)
{
  g_autoptr (TptCsvWriter) writer = tpt_csv_writer_new (path, columns, error);

  if (writer == NULL)
    return FALSE;
  for (guint i = 0; i < stations->len; i++)
    if (!write_station (writer, stations->pdata[i], error))
      return FALSE;
  return tpt_csv_writer_commit (writer, error);
}

static gboolean
is_blank (TptCsvReader *reader)
{
  for (guint i = 0; columns[i] != NULL; i++)
    {
      const char *value = g_strv_contains (given, columns[i]) ? NULL : tpt_csv_reader_get (reader, columns[i]);

      if (value != NULL && *value != '\0')
        return FALSE;
    }
  return TRUE;
}

static gboolean
is_empty_sheet (const char *path)
{
  g_autoptr (TptCsvReader) reader = tpt_csv_reader_open (path, NULL, NULL);
  const TptCsvRow *row;
  g_autoptr (GError) error = NULL;

  if (reader == NULL)
    return FALSE;
  for (guint i = 0; columns[i] != NULL; i++)
    if (tpt_csv_reader_find (reader, columns[i]) < 0)
      return FALSE;
  while (tpt_csv_reader_next (reader, &row, &error))
    if (!is_blank (reader))
      return FALSE;
  return error == NULL;
}

gboolean
tpt_visit_sheet_may_replace (const char *path, GError **error)
{
  if (!g_file_test (path, G_FILE_TEST_EXISTS) || is_empty_sheet (path))
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_DATA,
               _("“%s” is there already and is no empty visit sheet. Nothing was written; choose another name."), path);
  return FALSE;
}
