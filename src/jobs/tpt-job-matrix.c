#include "config.h"

#include "tpt-job-matrix.h"

#include <glib/gi18n-lib.h>

#include "tpt-discretion-private.h"
#include "tpt-error.h"
#include "tpt-findings-items-private.h"
#include "tpt-findings-jobs-private.h"
#include "tpt-pass-private.h"
#include "tpt-words.h"

/* One species of the pass. */
typedef struct {
  guint species;
  guint rank; /* above those of a higher one, whatever was seen */
  gint64 detections;
  guint stations; /* that worked and saw it */
} Row;

struct _TptJobMatrix {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */
  TptMatrixMeasure measure;
  gboolean discreet;
  GStrv first; /* (owned) (nullable): species on top */

  /* In-progress data */
  TptPass *pass;  /* (owned) */
  GArray *rows;   /* (owned) (element-type Row): as drawn */
  guint left_out; /* species of extreme sensitivity that would be rows */

  /* Results */
  TptFigure *figure; /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobMatrix, tpt_job_matrix, TPT_TYPE_JOB)

/* (transfer full): for each species; detections come by species and place. */
static Row *
count_rows (TptPass *pass)
{
  Row *rows = g_new0 (Row, pass->species->len + 1);
  const TptDetection *last = NULL;

  for (guint i = 0; i < pass->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (pass->detections, TptDetection, i);
      Row *row = &rows[detection->species];

      row->detections++;
      row->stations += pass->nights[detection->place] > 0 &&
                       (last == NULL || last->species != detection->species || last->place != detection->place);
      last = detection;
    }
  return rows;
}

/* Those asked for on top; then most detections first, of equals in the order of names. */
static int
compare_rows_cb (gconstpointer a, gconstpointer b)
{
  const Row *x = a, *y = b;

  if (x->rank != y->rank)
    return x->rank < y->rank ? -1 : 1;
  if (x->detections != y->detections)
    return x->detections > y->detections ? -1 : 1;
  return x->species < y->species ? -1 : x->species > y->species;
}

/* A name no species has is passed over: only the order is at stake. */
static void
rank_rows (TptJobMatrix *self, Row *rows)
{
  guint n_first = self->first != NULL ? g_strv_length (self->first) : 0;

  for (guint i = 0; i < self->pass->species->len; i++)
    {
      rows[i].rank = n_first;
      for (guint k = n_first; k-- > 0;)
        if (tpt_species_is_called (self->pass->species->pdata[i], self->first[k]))
          rows[i].rank = k;
    }
}

static void
choose_rows (TptJobMatrix *self, const gboolean *chosen)
{
  g_autofree Row *all = count_rows (self->pass);

  rank_rows (self, all);
  self->rows = g_array_new (FALSE, FALSE, sizeof (Row));
  for (guint i = 0; i < self->pass->species->len; i++)
    {
      if (!chosen[i] || (self->filter->species == NULL && all[i].detections == 0))
        continue;
      all[i].species = i;
      if (self->discreet && tpt_discretion_decimals (self->pass->species->pdata[i]) == 0)
        self->left_out++;
      else
        g_array_append_val (self->rows, all[i]);
    }
  g_array_sort (self->rows, compare_rows_cb);
}

static void
add_stations (TptJobMatrix *self)
{
  for (guint i = 0; i < self->pass->places->len; i++)
    {
      TptRecord *place = self->pass->places->pdata[i];
      g_autofree char *number = g_strdup_printf (_("Station %u"), i + 1);
      const char *code = tpt_record_get_code (place);
      const char *name = tpt_record_get_text (place, "name");

      if (name == NULL)
        name = code;
      tpt_matrix_add_station (self->figure, self->discreet ? number : name, self->discreet ? NULL : code,
                              self->pass->nights[i]);
    }
}

static void
add_cells (TptJobMatrix *self)
{
  g_autofree int *row_of = g_new (int, self->pass->species->len + 1);
  g_autofree gint64 *cells = g_new0 (gint64, (gsize) self->rows->len * self->pass->places->len + 1);

  for (guint i = 0; i < self->pass->species->len; i++)
    row_of[i] = -1;
  for (guint i = 0; i < self->rows->len; i++)
    {
      guint species = g_array_index (self->rows, Row, i).species;
      g_autofree char *title = tpt_species_title (self->pass->species->pdata[species]);

      row_of[species] =
        tpt_matrix_add_species (self->figure, title, tpt_record_get_code (self->pass->species->pdata[species]));
    }
  for (guint i = 0; i < self->pass->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (self->pass->detections, TptDetection, i);

      if (row_of[detection->species] >= 0)
        cells[(gsize) row_of[detection->species] * self->pass->places->len + detection->place]++;
    }
  for (guint row = 0; row < self->rows->len; row++)
    for (guint place = 0; place < self->pass->places->len; place++)
      {
        gint64 n = cells[(gsize) row * self->pass->places->len + place];

        if (n > 0)
          tpt_matrix_set (self->figure, (int) row, (int) place, n);
      }
}

static gint64
sum_detections (GArray *rows)
{
  gint64 sum = 0;

  for (guint i = 0; i < rows->len; i++)
    sum += g_array_index (rows, Row, i).detections;
  return sum;
}

/* (transfer full) (nullable): which species turned up at the most stations. */
static char *
say_widest (TptJobMatrix *self)
{
  const Row *widest = NULL;
  g_autofree char *title = NULL;
  guint worked = 0;

  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = &g_array_index (self->rows, Row, i);

      if (row->stations > 0 && (widest == NULL || row->stations > widest->stations))
        widest = row;
    }
  for (guint i = 0; i < self->pass->places->len; i++)
    worked += self->pass->nights[i] > 0;
  if (widest == NULL)
    return NULL;
  title = tpt_species_title (self->pass->species->pdata[widest->species]);
  if (widest->stations == worked)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s turned up at the one station that worked.",
                                         "%1$s turned up at all %2$u stations that worked.", worked),
                            title, worked);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                       "%1$s turned up at the most stations: at %2$u of the %3$u that worked.",
                                       "%1$s turned up at the most stations: at %2$u of the %3$u that worked.", worked),
                          title, widest->stations, worked);
}

/* (transfer full) (nullable) */
static char *
say_summary (TptJobMatrix *self)
{
  g_autofree char *widest = say_widest (self);
  g_autofree char *left_out = NULL;

  if (self->left_out == 0)
    return g_steal_pointer (&widest);
  left_out = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "One species of extreme sensitivity is left out.",
                                           "%u species of extreme sensitivity are left out.", self->left_out),
                              self->left_out);
  return widest != NULL ? g_strdup_printf ("%s %s", widest, left_out) : g_steal_pointer (&left_out);
}

static void
set_caption (TptJobMatrix *self)
{
  static const char *const units[] = { N_("detections"), N_("detections per 100 trap nights"), NULL };
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *species = self->left_out > 0 && self->filter->species == NULL
                               ? g_strdup (_("All species but the most sensitive"))
                               : tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
  g_autofree char *title = g_strdup_printf (_("%s: which station saw what"), species);
  g_autofree char *summary = say_summary (self), *method = tpt_pass_describe_method (self->pass);

  caption.title = title;
  caption.summary = summary;
  caption.n = sum_detections (self->rows);
  caption.n_of = _("detections");
  caption.trap_nights = self->pass->all_nights;
  caption.period = self->pass->period;
  caption.zone = self->pass->zone;
  caption.method = method;
  caption.units = units[self->measure] != NULL ? _(units[self->measure]) : NULL;
  tpt_figure_set_caption (self->figure, &caption);
}

/* A figure with nothing left in it would only seem to say that nothing was seen. */
static gboolean
check_rows (TptJobMatrix *self, GError **error)
{
  if (self->rows->len > 0 || self->left_out == 0)
    return TRUE;
  g_set_error_literal (
    error, TPT_ERROR, TPT_ERROR_USAGE,
    _("The species asked for are of extreme sensitivity: which station saw them is shown in an exact figure only"));
  return FALSE;
}

static gboolean
make_figure (TptJobMatrix *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autofree gboolean *chosen = NULL;

  self->pass = tpt_pass_get (store, self->filter, cancellable, error);
  chosen = self->pass != NULL ? tpt_pass_choose (self->pass, (const char *const *) self->filter->species, error) : NULL;
  if (chosen == NULL)
    return FALSE;
  choose_rows (self, chosen);
  if (!check_rows (self, error))
    return FALSE;
  self->figure = tpt_matrix_new (self->measure);
  add_stations (self);
  add_cells (self);
  set_caption (self);
  return TRUE;
}

gboolean
tpt_job_matrix_compute (TptJobMatrix *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  gboolean good = make_figure (self, store, cancellable, error);

  g_clear_pointer (&self->pass, tpt_pass_unref);
  g_clear_pointer (&self->rows, g_array_unref);
  return good;
}

static gboolean
tpt_job_matrix_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  return tpt_job_matrix_compute (TPT_JOB_MATRIX (job), store, cancellable, error);
}

static void
tpt_job_matrix_dispose (GObject *object)
{
  TptJobMatrix *self = TPT_JOB_MATRIX (object);

  g_assert (self->pass == NULL && self->rows == NULL);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->first, g_strfreev);
  g_clear_pointer (&self->figure, tpt_figure_unref);

  G_OBJECT_CLASS (tpt_job_matrix_parent_class)->dispose (object);
}

static void
tpt_job_matrix_class_init (TptJobMatrixClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_matrix_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_matrix_run;
}

static void
tpt_job_matrix_init (TptJobMatrix *self)
{
}

TptJobMatrix *
tpt_job_matrix_new (const TptFilter *filter, TptMatrixMeasure measure)
{
  TptJobMatrix *self = g_object_new (TPT_TYPE_JOB_MATRIX, NULL);

  self->filter = tpt_filter_copy (filter);
  self->measure = measure;
  return self;
}

void
tpt_job_matrix_put_first (TptJobMatrix *self, const char *const *species)
{
  g_strfreev (self->first);
  self->first = g_strdupv ((char **) species);
}

void
tpt_job_matrix_set_discreet (TptJobMatrix *self, gboolean discreet)
{
  self->discreet = discreet;
}

TptFigure *
tpt_job_matrix_get_figure (TptJobMatrix *self)
{
  return self->figure;
}
