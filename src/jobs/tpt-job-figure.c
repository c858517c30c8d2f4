#include "config.h"

#include "tpt-job-figure.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-chart-map.h"
#include "tpt-due-figure-private.h"
#include "tpt-discretion-private.h"
#include "tpt-error.h"
#include "tpt-findings-items-private.h"
#include "tpt-findings-private.h"
#include "tpt-job-due-private.h"
#include "tpt-unit-lives-private.h"
#include "tpt-query.h"
#include "tpt-records.h"

struct _TptJobFigure {
  TptJob parent_instance;

  /* Input arguments */
  char *kind;        /* (owned) */
  TptFilter *filter; /* (owned) */
  gboolean exact;
  TptLivesBy by;
  TptInstant on, until; /* of what is due */
  char *path;        /* (owned) (nullable) */
  TptFigureSize size;
  TptFigureStyle style;

  /* In-progress data */
  TptJobFindings *findings; /* (owned) */
  gboolean left_out;        /* species of extreme sensitivity were */

  /* Results */
  TptFigure *figure; /* (owned) */
  char *csv_path;    /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobFigure, tpt_job_figure, TPT_TYPE_JOB)

static const char *const kinds[] = { "strip", "map", "due", "lives", NULL };

gboolean
tpt_job_figure_knows (const char *kind)
{
  return g_strv_contains (kinds, kind);
}

/* A map of everything leaves the most sensitive species out instead of being
 * drawn in cells as large as a district for their sake. */
static gboolean
leave_out_extreme (TptJobFigure *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) species = NULL;
  g_autoptr (GStrvBuilder) kept = g_strv_builder_new ();

  if (self->exact || self->filter->species != NULL || !g_str_equal (self->kind, "map"))
    return TRUE;
  species = tpt_store_list (store, TPT_TABLE_SPECIES, NULL, NULL, error);
  if (species == NULL)
    return FALSE;
  for (guint i = 0; i < species->len; i++)
    {
      if (tpt_discretion_decimals (species->pdata[i]) == 0)
        self->left_out = TRUE;
      else
        g_strv_builder_add (kept, tpt_record_get_code (species->pdata[i]));
    }
  if (self->left_out)
    self->filter->species = g_strv_builder_end (kept);
  return TRUE;
}

static gboolean
is_chosen (TptJobFigure *self, TptSpeciesItem *item)
{
  GStrv names = self->filter->species;
  gboolean chosen = names == NULL;

  for (guint i = 0; !chosen && names[i] != NULL; i++)
    chosen = tpt_species_item_is_called (item, names[i]);
  return chosen;
}

/* The coarsest of the project's floor, the stations and the chosen species. */
static int
choose_decimals (TptJobFigure *self, TptStore *store)
{
  int decimals = tpt_discretion_floor (store);
  GListModel *species = tpt_job_findings_get_species (self->findings);
  GListModel *places = tpt_job_findings_get_places (self->findings);

  for (guint i = 0; i < g_list_model_get_n_items (species); i++)
    {
      g_autoptr (TptSpeciesItem) item = g_list_model_get_item (species, i);

      if (tpt_species_item_get_rate (item)->detections > 0 && is_chosen (self, item))
        decimals = MIN (decimals, tpt_discretion_decimals (tpt_species_item_get_record (item)));
    }
  for (guint i = 0; i < g_list_model_get_n_items (places); i++)
    {
      g_autoptr (TptPlaceItem) item = g_list_model_get_item (places, i);
      decimals = MIN (decimals, tpt_discretion_decimals (tpt_place_item_get_record (item)));
    }
  return decimals;
}

static TptTrackKind
track_kind (const TptTrack *track)
{
  static const struct {
    const char *word;
    TptTrackKind kind;
  } words[] = {
    { "road", TPT_TRACK_ROAD }, { "river", TPT_TRACK_RIVER }, { "water", TPT_TRACK_LAKE }, { "boundary", TPT_TRACK_BOUNDARY },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (words[i].word, track->kind))
      return words[i].kind == TPT_TRACK_LAKE && !track->area ? TPT_TRACK_RIVER : words[i].kind;
  return TPT_TRACK_TRAIL;
}

static gboolean
add_tracks (TptFigure *figure, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) tracks = tpt_store_list_tracks (store, error);

  if (tracks == NULL)
    return FALSE;
  for (guint i = 0; i < tracks->len; i++)
    {
      const TptTrack *track = tracks->pdata[i];
      const TptPlace *places = (const TptPlace *) (gpointer) track->points->data;

      for (guint line = 0; line < track->lengths->len; line++)
        {
          guint n = g_array_index (track->lengths, guint, line);

          tpt_chart_map_add_track (figure, track_kind (track), line == 0 ? track->name : NULL, places, n);
          places += n;
        }
    }
  return TRUE;
}

static void
add_stations (TptJobFigure *self, TptFigure *figure)
{
  GListModel *places = tpt_job_findings_get_places (self->findings);

  for (guint i = 0; i < g_list_model_get_n_items (places); i++)
    {
      g_autoptr (TptPlaceItem) item = g_list_model_get_item (places, i);
      TptRecord *record = tpt_place_item_get_record (item);
      const TptRate *rate = tpt_place_item_get_rate (item);
      TptMapStation station = {
        .label = tpt_place_item_get_title (item),
        .key = tpt_record_get_code (record),
        .place = { tpt_record_get_real (record, "latitude"), tpt_record_get_real (record, "longitude") },
        .detections = (double) rate->detections,
        .trap_nights = rate->nights,
      };

      if (tpt_record_is_set (record, "latitude"))
        tpt_chart_map_add_station (figure, &station);
    }
}

static void
set_map_caption (TptJobFigure *self, TptZone *zone)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *species = self->left_out ? g_strdup (_("All species but the most sensitive"))
                                            : tpt_job_findings_name_species (self->findings);
  g_autofree char *title = g_strdup_printf (_("%s: where they turned up"), species);
  g_autofree char *method = tpt_job_findings_describe_method (self->findings);
  const TptRate *rate = tpt_job_findings_get_rate (self->findings);

  caption.title = title;
  caption.n = rate->detections;
  caption.n_of = _("detections");
  caption.trap_nights = rate->nights;
  caption.period = tpt_job_findings_get_period (self->findings);
  caption.zone = zone;
  caption.method = method;
  caption.units = _("detections");
  tpt_figure_set_caption (self->figure, &caption);
}

static gboolean
make_map (TptJobFigure *self, TptStore *store, GError **error)
{
  self->figure = tpt_chart_map_new (TPT_MAP_COUNT, self->exact ? TPT_MAP_EXACT : choose_decimals (self, store));
  if (!add_tracks (self->figure, store, error))
    return FALSE;
  add_stations (self, self->figure);
  set_map_caption (self, tpt_store_get_zone (store));
  return TRUE;
}

static gboolean
is_empty (const TptFilter *filter)
{
  return filter->stations == NULL && filter->species == NULL && filter->range.from == TPT_NO_INSTANT &&
         filter->range.to == TPT_NO_INSTANT && filter->hour_from < 0 && isnan (filter->independence_min) && filter->gap_from_first < 0;
}

/* Units have no station, species or hour of their own: a filter that did
 * nothing would be a false promise. */
static gboolean
check_no_filter (const TptFilter *filter, GError **error)
{
  if (is_empty (filter))
    return TRUE;
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE,
                       _("Unit lives are those of all units: stations, species, times and independence cannot be chosen"));
  return FALSE;
}

static gboolean
make_lives (TptJobFigure *self, TptStore *store, GError **error)
{
  g_autoptr (TptJobLives) lives = tpt_job_lives_new (self->by);

  if (!check_no_filter (self->filter, error) || !tpt_job_lives_compute (lives, store, error))
    return FALSE;
  self->figure = tpt_figure_ref (tpt_job_lives_get_figure (lives));
  return TRUE;
}

/* What is due can be that of some stations, but knows no species or period. */
static gboolean
make_due (TptJobFigure *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobDue) due = tpt_job_due_new (self->on, self->until);
  g_autoptr (TptFilter) rest = tpt_filter_copy (self->filter);

  g_clear_pointer (&rest->stations, g_strfreev);
  if (!is_empty (rest))
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE,
                           _("Of what is due, stations can be chosen, but no species, times or independence"));
      return FALSE;
    }
  tpt_job_due_set_stations (due, (const char *const *) self->filter->stations);
  if (!tpt_job_due_compute (due, store, cancellable, error))
    return FALSE;
  self->figure = tpt_due_figure_make (due, tpt_store_get_zone (store), self->exact);
  return TRUE;
}

static gboolean
make_figure (TptJobFigure *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  if (!tpt_job_figure_knows (self->kind))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("There is no figure “%s”; there are: strip, map, due, lives"), self->kind);
      return FALSE;
    }
  if (g_str_equal (self->kind, "lives"))
    return make_lives (self, store, error);
  if (g_str_equal (self->kind, "due"))
    return make_due (self, store, cancellable, error);
  if (!leave_out_extreme (self, store, error))
    return FALSE;
  self->findings = tpt_job_findings_new (self->filter);
  if (!tpt_job_findings_compute (self->findings, store, cancellable, error))
    return FALSE;
  if (g_str_equal (self->kind, "map"))
    return make_map (self, store, error);
  self->figure = tpt_job_findings_draw_strip (self->findings, self->exact);
  return TRUE;
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
  gboolean good = make_figure (self, store, cancellable, error) && !g_cancellable_set_error_if_cancelled (cancellable, error) &&
                  write_files (self, error);

  g_clear_object (&self->findings);
  return good;
}

static void
tpt_job_figure_dispose (GObject *object)
{
  TptJobFigure *self = TPT_JOB_FIGURE (object);

  g_assert (self->findings == NULL);
  g_clear_pointer (&self->kind, g_free);
  g_clear_pointer (&self->filter, tpt_filter_free);
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
