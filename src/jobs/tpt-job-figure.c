#include "config.h"

#include "tpt-job-figure-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"

struct _TptJobFigure {
  TptJob parent_instance;

  /* Input arguments */
  char *kind;        /* (owned) */
  TptFilter *filter; /* (owned) */
  TptFilter *other;  /* (owned) (nullable) */
  gboolean exact;
  TptLivesBy by;
  TptInstant on, until; /* of what is due */
  gboolean by_sun;      /* of hours */
  char *path;           /* (owned) (nullable) */
  TptFigureSize size;
  TptFigureStyle style;

  /* Results */
  TptFigure *figure; /* (owned) */
  char *csv_path;    /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobFigure, tpt_job_figure, TPT_TYPE_JOB)

typedef struct {
  const char *name;
  TptFigureMaker make;
} Kind;

static const Kind kinds[] = {
  { "strip", tpt_figure_make_strip },
  { "map", tpt_figure_make_map },
  { "hours", tpt_figure_make_hours },
  { "months", tpt_figure_make_months },
  { "matrix", tpt_figure_make_matrix },
  { "accumulation", tpt_figure_make_accumulation },
  { "due", tpt_figure_make_due },
  { "lives", tpt_figure_make_lives },
};

static const Kind *
find_kind (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_str_equal (kinds[i].name, name))
      return &kinds[i];
  return NULL;
}

gboolean
tpt_job_figure_knows (const char *kind)
{
  return find_kind (kind) != NULL;
}

char *
tpt_job_figure_list_kinds (const char *separator)
{
  GString *names = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_string_append_printf (names, "%s%s", i > 0 ? separator : "", kinds[i].name);
  return g_string_free (names, FALSE);
}

static gboolean
make_figure (TptJobFigure *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  const TptFigureOrder order = { self->filter, self->other, self->exact, self->by, self->on, self->until, self->by_sun };
  const Kind *kind = find_kind (self->kind);
  g_autofree char *names = NULL;

  if (kind == NULL)
    {
      names = tpt_job_figure_list_kinds (", ");
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("There is no figure “%s”; there are: %s"), self->kind, names);
      return FALSE;
    }
  self->figure = kind->make (&order, store, cancellable, error);
  return self->figure != NULL;
}

/* The numbers beside the figure: same name, another ending. */
static char *
make_csv_path (const char *path)
{
  const char *dot = strrchr (path, '.');
  const char *slash = strrchr (path, G_DIR_SEPARATOR);
  gsize stem = dot != NULL && (slash == NULL || dot > slash) ? (gsize) (dot - path) : strlen (path);

  return g_strdup_printf ("%.*s.csv", (int) stem, path);
}

static gboolean
write_files (TptJobFigure *self, GError **error)
{
  g_autofree char *csv = NULL;

  if (self->path == NULL)
    return TRUE;
  csv = make_csv_path (self->path);
  if (!tpt_figure_export (self->figure, self->path, &self->size, &self->style, error) ||
      !tpt_figure_write_csv (self->figure, csv, error))
    return FALSE;
  self->csv_path = g_steal_pointer (&csv);
  return TRUE;
}

static gboolean
tpt_job_figure_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobFigure *self = TPT_JOB_FIGURE (job);

  return make_figure (self, store, cancellable, error) && !g_cancellable_set_error_if_cancelled (cancellable, error) &&
         write_files (self, error);
}

static void
tpt_job_figure_dispose (GObject *object)
{
  TptJobFigure *self = TPT_JOB_FIGURE (object);

  g_clear_pointer (&self->kind, g_free);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->other, tpt_filter_free);
  g_clear_pointer (&self->path, g_free);
  g_clear_pointer (&self->figure, tpt_figure_unref);
  g_clear_pointer (&self->csv_path, g_free);

  G_OBJECT_CLASS (tpt_job_figure_parent_class)->dispose (object);
}

static void
tpt_job_figure_class_init (TptJobFigureClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_figure_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_figure_run;
}

static void
tpt_job_figure_init (TptJobFigure *self)
{
  self->on = self->until = TPT_NO_INSTANT;
}

TptJobFigure *
tpt_job_figure_new (const char *kind, const TptFilter *filter, gboolean exact)
{
  TptJobFigure *self = g_object_new (TPT_TYPE_JOB_FIGURE, NULL);

  self->kind = g_strdup (kind);
  self->filter = tpt_filter_copy (filter);
  self->exact = exact;
  return self;
}

void
tpt_job_figure_write_to (TptJobFigure *self, const char *path, const TptFigureSize *size, const TptFigureStyle *style)
{
  g_free (self->path);
  self->path = g_strdup (path);
  self->size = *size;
  self->style = *style;
}

void
tpt_job_figure_set_by (TptJobFigure *self, TptLivesBy by)
{
  self->by = by;
}

void
tpt_job_figure_set_moments (TptJobFigure *self, TptInstant on, TptInstant until)
{
  self->on = on;
  self->until = until;
}

void
tpt_job_figure_compare (TptJobFigure *self, const TptFilter *other)
{
  g_clear_pointer (&self->other, tpt_filter_free);
  self->other = tpt_filter_copy (other);
}

void
tpt_job_figure_set_by_sun (TptJobFigure *self, gboolean by_sun)
{
  self->by_sun = by_sun;
}

TptFigure *
tpt_job_figure_get_figure (TptJobFigure *self)
{
  return self->figure;
}

const char *
tpt_job_figure_get_csv_path (TptJobFigure *self)
{
  return self->csv_path;
}
