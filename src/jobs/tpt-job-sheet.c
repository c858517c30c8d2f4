#include "config.h"

#include "tpt-job-sheet.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-job-due.h"
#include "tpt-packing-private.h"
#include "tpt-records.h"
#include "tpt-visit-sheet-private.h"
#include "tpt-words.h"

struct _TptJobSheet {
  TptJob parent_instance;

  /* Input arguments */
  char *kind;     /* (owned) */
  GStrv stations; /* (owned) (nullable) */
  TptInstant on, until;
  gboolean exact;
  char *path;     /* (owned) */
  TptPaper paper;

  /* In-progress data */
  TptSheetContext context;
  GPtrArray *visits; /* (owned) (element-type TptVisitSheet) */

  /* Results */
  char *csv_path;   /* (owned) */
  GPtrArray *codes; /* (owned) */
  guint n_pages, n_unknown;
};

G_DEFINE_FINAL_TYPE (TptJobSheet, tpt_job_sheet, TPT_TYPE_JOB)

static const char *const kinds[] = { "visit", NULL };

gboolean
tpt_job_sheet_knows (const char *kind)
{
  return g_strv_contains (kinds, kind);
}

static gboolean
check_path (TptJobSheet *self, GError **error)
{
  gsize stem = strlen (self->path) - MIN (strlen (self->path), strlen (".pdf"));

  if (stem == 0 || g_ascii_strcasecmp (self->path + stem, ".pdf") != 0)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("A sheet is written as .pdf; “%s” does not end so"), self->path);
      return FALSE;
    }
  self->csv_path = g_strdup_printf ("%.*s.csv", (int) stem, self->path);
  return tpt_visit_sheet_may_replace (self->csv_path, error);
}

static gboolean
check_inputs (TptJobSheet *self, TptStore *store, GError **error)
{
  if (!tpt_job_sheet_knows (self->kind))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("There is no sheet “%s”; there is: visit"), self->kind);
      return FALSE;
    }
  return check_path (self, error) && tpt_store_check_stations (store, (const char *const *) self->stations, error);
}

static gboolean
is_due (TptStationItem *item)
{
  TptSymbolState state = tpt_station_item_get_forecast (item)->state;

  return state == TPT_STATE_SOON || state == TPT_STATE_NOW || state == TPT_STATE_DOWN;
}

static gboolean
is_wanted (TptJobSheet *self, TptStationItem *item)
{
  if (self->stations != NULL)
    return g_strv_contains ((const char *const *) self->stations, tpt_station_item_get_code (item));
  self->n_unknown += tpt_station_item_get_deployment (item) != NULL &&
                     tpt_station_item_get_forecast (item)->state == TPT_STATE_UNKNOWN;
  return is_due (item);
}

static gboolean
refuse_empty (TptJobSheet *self, GError **error)
{
  g_autofree char *day = tpt_words_day (self->context.until, self->context.zone, self->context.on);

  g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("Nothing is due before %s. Choose the stations to have a sheet all the same."), day);
  return FALSE;
}

static gboolean
read_visits (TptJobSheet *self, TptJobDue *due, GCancellable *cancellable, GError **error)
{
  GListModel *items = tpt_job_due_get_stations (due);
  guint n = g_list_model_get_n_items (items);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (items, i);
      TptVisitSheet *visit;

      if (!is_wanted (self, item))
        continue;
      tpt_job_report (TPT_JOB (self), (double) i / (2 * n), tpt_station_item_get_title (item));
      visit = tpt_visit_sheet_read (&self->context, item, error);
      if (visit == NULL)
        return FALSE;
      g_ptr_array_add (self->visits, visit);
      g_ptr_array_add (self->codes, g_strdup (tpt_station_item_get_code (item)));
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
    }
  return self->visits->len > 0 || refuse_empty (self, error);
}

static gboolean
start_packing (TptJobSheet *self, GError **error)
{
  g_autoptr (TptPackShelf) shelf = tpt_pack_shelf_read (self->context.store, self->context.on, error);

  if (shelf != NULL)
    self->context.packing = tpt_packing_new (shelf, self->context.threshold);
  return shelf != NULL;
}

static gboolean
gather (TptJobSheet *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobDue) due = tpt_job_due_new (self->on, self->until);

  if (!TPT_JOB_GET_CLASS (due)->run (TPT_JOB (due), store, cancellable, error))
    return FALSE;
  self->context = (TptSheetContext){
    .store = store,
    .zone = tpt_store_get_zone (store),
    .on = tpt_job_due_get_on (due),
    .until = tpt_job_due_get_until (due),
    .threshold = tpt_store_get_setting_real (store, "due_threshold", 0.1),
    .exact = self->exact,
    .readings = tpt_store_read_last_readings (store, tpt_job_due_get_on (due), error),
  };
  return self->context.readings != NULL && start_packing (self, error) && read_visits (self, due, cancellable, error);
}

static void
set_footer (TptJobSheet *self, TptStore *store, TptSheet *sheet)
{
  g_autofree char *project = tpt_store_get_setting (store, "name");
  g_autofree char *on = tpt_words_date (self->context.on, self->context.zone);
  /* Translators: the project's name, and a date. */
  g_autofree char *words = g_strdup_printf (_("%1$s; as known on %2$s"), project, on);

  tpt_sheet_set_footer (sheet, words);
  if (self->exact)
    tpt_sheet_set_mark (sheet, _("Exact locations, not for handing out"));
}

static TptSheet *
lay (TptJobSheet *self, TptStore *store)
{
  g_autofree char *day = tpt_words_date (self->context.until, self->context.zone);
  g_autofree char *title = g_strdup_printf (_("Visit sheet; next round on %s"), day);
  TptSheet *sheet = tpt_sheet_new (self->paper, title);

  set_footer (self, store, sheet);
  for (guint i = 0; i < self->visits->len; i++)
    tpt_visit_sheet_lay (self->visits->pdata[i], sheet);
  return sheet;
}

static gboolean
write_files (TptJobSheet *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptSheet) sheet = lay (self, store);

  self->n_pages = tpt_sheet_count_pages (sheet);
  tpt_job_report (TPT_JOB (self), 0.75, NULL);
  if (g_cancellable_set_error_if_cancelled (cancellable, error) || !tpt_visit_sheet_write_csv (self->csv_path, self->visits, error) ||
      !tpt_sheet_write_pdf (sheet, self->path, error))
    return FALSE;
  tpt_job_report (TPT_JOB (self), 1, NULL);
  return TRUE;
}

static gboolean
tpt_job_sheet_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobSheet *self = TPT_JOB_SHEET (job);
  gboolean good;

  self->visits = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_visit_sheet_free);
  good = check_inputs (self, store, error) && gather (self, store, cancellable, error) &&
         write_files (self, store, cancellable, error);
  g_clear_pointer (&self->visits, g_ptr_array_unref);
  g_clear_pointer (&self->context.readings, g_array_unref);
  g_clear_pointer (&self->context.packing, tpt_packing_free);
  return good;
}

static void
tpt_job_sheet_dispose (GObject *object)
{
  TptJobSheet *self = TPT_JOB_SHEET (object);

  g_assert (self->visits == NULL && self->context.readings == NULL);
  g_clear_pointer (&self->kind, g_free);
  g_clear_pointer (&self->stations, g_strfreev);
  g_clear_pointer (&self->path, g_free);
  g_clear_pointer (&self->csv_path, g_free);
  g_clear_pointer (&self->codes, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_sheet_parent_class)->dispose (object);
}

static void
tpt_job_sheet_class_init (TptJobSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_sheet_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_sheet_run;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_sheet_init (TptJobSheet *self)
{
  self->codes = g_ptr_array_new_with_free_func (g_free);
}

TptJobSheet *
tpt_job_sheet_new (const char *kind, const char *const *stations, TptInstant on, TptInstant until, gboolean exact)
{
  TptJobSheet *self = g_object_new (TPT_TYPE_JOB_SHEET, NULL);

  self->kind = g_strdup (kind);
  self->stations = g_strdupv ((GStrv) stations);
  self->on = on;
  self->until = until;
  self->exact = exact;
  return self;
}

void
tpt_job_sheet_write_to (TptJobSheet *self, const char *path, TptPaper paper)
{
  g_free (self->path);
  self->path = g_strdup (path);
  self->paper = paper;
}

const char *
tpt_job_sheet_get_csv_path (TptJobSheet *self)
{
  return self->csv_path;
}

guint
tpt_job_sheet_get_n_pages (TptJobSheet *self)
{
  return self->n_pages;
}

GPtrArray *
tpt_job_sheet_get_stations (TptJobSheet *self)
{
  return self->codes;
}

guint
tpt_job_sheet_get_n_unknown (TptJobSheet *self)
{
  return self->n_unknown;
}
