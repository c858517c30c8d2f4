#include "config.h"

#include "tpt-job-figure-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-chart-map.h"
#include "tpt-discretion-private.h"
#include "tpt-query.h"
#include "tpt-records.h"

/* A map on its way. */
typedef struct {
  TptFilter *filter; /* (not owned): its species may be narrowed */
  gboolean exact;
  TptJobFindings *findings; /* (owned) */
  gboolean left_out;        /* species of extreme sensitivity were */
  TptFigure *figure;        /* (owned) */
} Map;

/* A map of everything leaves the most sensitive species out instead of being
 * drawn in cells as large as a district for their sake. */
static gboolean
leave_out_extreme (Map *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) species = NULL;
  g_autoptr (GStrvBuilder) kept = g_strv_builder_new ();

  if (self->exact || self->filter->species != NULL)
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
is_chosen (Map *self, TptSpeciesItem *item)
{
  GStrv names = self->filter->species;
  gboolean chosen = names == NULL;

  for (guint i = 0; !chosen && names[i] != NULL; i++)
    chosen = tpt_species_item_is_called (item, names[i]);
  return chosen;
}

/* The coarsest of the project's floor, the stations and the chosen species. */
static int
choose_decimals (Map *self, TptStore *store)
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
    { "road", TPT_TRACK_ROAD },
    { "river", TPT_TRACK_RIVER },
    { "water", TPT_TRACK_LAKE },
    { "boundary", TPT_TRACK_BOUNDARY },
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
add_stations (Map *self, TptFigure *figure)
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
set_map_caption (Map *self, TptZone *zone)
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
make_map (Map *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  if (!leave_out_extreme (self, store, error))
    return FALSE;
  self->findings = tpt_job_findings_new (self->filter);
  if (!tpt_job_findings_compute (self->findings, store, cancellable, error))
    return FALSE;
  self->figure = tpt_chart_map_new (TPT_MAP_COUNT, self->exact ? TPT_MAP_EXACT : choose_decimals (self, store));
  if (!add_tracks (self->figure, store, error))
    return FALSE;
  add_stations (self, self->figure);
  set_map_caption (self, tpt_store_get_zone (store));
  return TRUE;
}

TptFigure *
tpt_figure_make_map (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptFilter) filter = tpt_filter_copy (order->filter);
  Map self = { filter, order->exact, NULL, FALSE, NULL };

  if (!make_map (&self, store, cancellable, error))
    g_clear_pointer (&self.figure, tpt_figure_unref);
  g_clear_object (&self.findings);
  return self.figure;
}
