#include "config.h"

#include "sci-generalise.h"
#include "tpt-chart-map-private.h"
#include "tpt-number.h"
#include "tpt-phrases-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind map_kind;
static const TptFigureKind grid_kind;

static void
free_mark (gpointer data)
{
  TptChartMark *mark = data;

  g_free (mark->label);
  g_free (mark->key);
  g_free (mark);
}

static void
free_track (gpointer data)
{
  TptChartTrack *track = data;

  g_free (track->name);
  g_array_unref (track->places);
  g_free (track);
}

static void
free_map (gpointer data)
{
  TptChartMap *map = data;

  g_ptr_array_unref (map->marks);
  g_ptr_array_unref (map->tracks);
  g_free (map);
}

TptFigure *
tpt_chart_map_new (TptMapMeasure measure,
                   int decimals)
{
  TptChartMap *map = g_new0 (TptChartMap, 1);

  g_return_val_if_fail (decimals >= TPT_MAP_EXACT && decimals <= 3, NULL);

  map->measure = measure;
  map->decimals = decimals;
  map->cell = decimals >= 0 ? pow (10, -decimals) : 0;
  map->marks = g_ptr_array_new_with_free_func (free_mark);
  map->tracks = g_ptr_array_new_with_free_func (free_track);
  return tpt_figure_new (map->cell > 0 ? &grid_kind : &map_kind, map);
}

static TptChartMap *
get_map (TptFigure *figure)
{
  return tpt_figure_get_data (figure, tpt_figure_is_of (figure, &grid_kind) ? &grid_kind : &map_kind);
}

static TptChartMark *
find_cell (TptChartMap *map,
           TptPlace corner,
           int *index)
{
  for (guint i = 0; i < map->marks->len; i++)
    {
      TptChartMark *mark = g_ptr_array_index (map->marks, i);

      *index = (int) i;
      if (mark->place.latitude == corner.latitude && mark->place.longitude == corner.longitude)
        return mark;
    }

  return NULL;
}

static int
append_mark (TptChartMap *map,
             TptPlace place,
             const TptMapStation *station)
{
  TptChartMark *mark = g_new0 (TptChartMark, 1);

  mark->place = place;
  mark->detections = station->detections;
  mark->trap_nights = station->trap_nights;
  g_ptr_array_add (map->marks, mark);
  return (int) map->marks->len - 1;
}

/* The place is gone from here on: only its cell is kept. */
static int
add_to_cell (TptChartMap *map,
             const TptMapStation *station)
{
  double longitude = tpt_chart_nearest_turn (station->place.longitude, 0);
  SciPlace cell = sci_generalise_corner ((SciPlace) { station->place.latitude, longitude }, map->decimals);
  TptPlace corner = { cell.latitude, cell.longitude };
  int index = -1;
  TptChartMark *mark = find_cell (map, corner, &index);

  if (mark == NULL)
    return append_mark (map, corner, station);

  mark->detections += station->detections;
  mark->trap_nights += station->trap_nights;
  return index;
}

int
tpt_chart_map_add_station (TptFigure *figure,
                           const TptMapStation *station)
{
  TptChartMap *map = get_map (figure);
  TptChartMark *mark;
  int index;

  if (!(fabs (station->place.latitude) <= 90 && fabs (station->place.longitude) <= 360))
    return -1;
  if (map->cell > 0)
    return add_to_cell (map, station);

  index = append_mark (map, station->place, station);
  mark = g_ptr_array_index (map->marks, index);
  mark->label = g_strdup (station->label != NULL ? station->label : "");
  mark->key = g_strdup (station->key);
  return index;
}

void
tpt_chart_map_add_track (TptFigure *figure,
                         TptTrackKind kind,
                         const char *name,
                         const TptPlace *places,
                         guint n_places)
{
  TptChartMap *map = get_map (figure);
  TptChartTrack *track;

  if (n_places < 2 || (map->cell > 0 && kind == TPT_TRACK_TRAIL))
    return;

  track = g_new0 (TptChartTrack, 1);
  track->kind = kind;
  track->name = g_strdup (name);
  track->places = g_array_sized_new (FALSE, FALSE, sizeof (TptPlace), n_places);
  g_array_append_vals (track->places, places, n_places);
  g_ptr_array_add (map->tracks, track);
}

double
tpt_chart_map_get_value (const TptChartMap *map,
                         const TptChartMark *mark)
{
  switch (map->measure)
    {
    case TPT_MAP_RATE:
      return mark->trap_nights > 0 ? 100 * mark->detections / mark->trap_nights : NAN;
    case TPT_MAP_PRESENCE:
      return mark->detections > 0 ? 1 : 0;
    case TPT_MAP_COUNT:
    default:
      return mark->detections;
    }
}

gboolean
tpt_chart_map_was_worked (const TptChartMark *mark)
{
  return mark->trap_nights > 0 || mark->detections > 0;
}

char *
tpt_chart_map_note (const TptChartMap *map)
{
  g_autofree char *cell = NULL;

  if (map->cell <= 0)
    return g_strdup (_("Exact locations"));

  cell = tpt_number_format_real (map->cell);
  return g_strdup_printf (_("Places shown on a grid of %s degree"), cell);
}

static void
draw_map (TptFigure *figure,
          TptCanvas *canvas,
          const TptFigureRect *area)
{
  tpt_chart_map_paint (get_map (figure), canvas, area);
}

static double
get_map_height (TptFigure *figure,
                TptCanvas *canvas,
                double width)
{
  return CLAMP (0.72 * width, 20 * canvas->em, 90 * canvas->em);
}

static TptFigureRect
get_map_plot (TptFigure *figure,
              TptCanvas *canvas,
              const TptFigureRect *area)
{
  TptChartMapLayout layout = { 0 };
  TptFigureRect plot;

  tpt_chart_map_lay_out (get_map (figure), canvas, area, &layout);
  plot = layout.view.rect;
  tpt_chart_map_layout_clear (&layout);
  return plot;
}

/* Four decimals are eleven metres: as good as a handheld receiver. */
static char *
describe_place (TptPlace place,
                int digits)
{
  double longitude = tpt_chart_nearest_turn (place.longitude, 0);

  return g_strdup_printf ("%.*f° %s %.*f° %s", digits, fabs (place.latitude), place.latitude < 0 ? C_("south", "S") : C_("north", "N"),
                          digits, fabs (longitude), longitude < 0 ? C_("west", "W") : C_("east", "E"));
}

static char *
describe_mark (const TptChartMap *map,
               const TptChartMark *mark)
{
  g_autofree char *place = map->cell > 0 ? describe_place (mark->place, map->decimals) : NULL;
  g_autofree char *cell = place != NULL ? g_strdup_printf (_("Cell from %s"), place) : NULL;
  g_autofree char *found = tpt_phrase_detections (mark->detections);
  g_autofree char *nights = tpt_phrase_trap_nights (mark->trap_nights);
  const char *label = cell != NULL ? cell : mark->label;

  if (!tpt_chart_map_was_worked (mark))
    return g_strdup_printf (_("%s: not at work in this period"), label);
  if (mark->detections <= 0)
    return g_strdup_printf (_("%1$s: not seen in %2$s"), label, nights);
  /* Translators: a station, "14 detections", "200 trap nights". */
  return g_strdup_printf (_("%1$s: %2$s in %3$s"), label, found, nights);
}

static void
hit_map (TptFigure *figure,
         TptCanvas *canvas,
         const TptFigureRect *area,
         TptHitTest *test)
{
  const TptChartMap *map = get_map (figure);
  TptLayer layer = map->cell > 0 ? TPT_LAYER_AREA : TPT_LAYER_MARK;
  TptChartMapLayout layout = { 0 };

  tpt_chart_map_lay_out (map, canvas, area, &layout);
  for (guint i = 0; i < layout.spots->len; i++)
    {
      const TptChartSpot *spot = &g_array_index (layout.spots, TptChartSpot, i);

      if (tpt_hit_test_wants (test, layer, &spot->rect))
        tpt_hit_test_take (test, layer, &spot->rect, map->cell > 0 ? TPT_HIT_CELL : TPT_HIT_STATION,
                           spot->index, -1, describe_mark (map, spot->mark), spot->mark->key);
    }
  tpt_chart_map_layout_clear (&layout);
}

static const char *
name_state (const TptChartMark *mark)
{
  if (!tpt_chart_map_was_worked (mark))
    return "not-worked";
  return mark->detections > 0 ? "seen" : "not-seen";
}

static char *
make_rate (const TptChartMark *mark)
{
  return tpt_number_format_real (mark->trap_nights > 0 ? 100 * mark->detections / mark->trap_nights : NAN);
}

static void
add_map_rows (TptFigure *figure,
              TptFigureTable *table)
{
  const TptChartMap *map = get_map (figure);

  for (guint i = 0; i < map->marks->len; i++)
    {
      const TptChartMark *mark = g_ptr_array_index (map->marks, i);

      tpt_figure_table_add (table, g_strdup (mark->label), tpt_number_format_real (mark->place.latitude),
                            tpt_number_format_real (mark->place.longitude), g_strdup (name_state (mark)),
                            tpt_number_format_real (mark->detections), tpt_number_format_real (mark->trap_nights), make_rate (mark), NULL);
    }
}

static void
add_grid_rows (TptFigure *figure,
               TptFigureTable *table)
{
  const TptChartMap *map = get_map (figure);

  for (guint i = 0; i < map->marks->len; i++)
    {
      const TptChartMark *mark = g_ptr_array_index (map->marks, i);

      tpt_figure_table_add (table, tpt_number_format_real (mark->place.latitude), tpt_number_format_real (mark->place.longitude),
                            tpt_number_format_real (map->cell), g_strdup (name_state (mark)),
                            tpt_number_format_real (mark->detections), tpt_number_format_real (mark->trap_nights), make_rate (mark), NULL);
    }
}

static char *
describe_map (TptFigure *figure)
{
  const TptChartMap *map = get_map (figure);
  GString *text = g_string_new (NULL);
  guint seen = 0, worked = 0;

  for (guint i = 0; i < map->marks->len; i++)
    {
      const TptChartMark *mark = g_ptr_array_index (map->marks, i);

      worked += tpt_chart_map_was_worked (mark);
      seen += mark->detections > 0;
    }

  if (map->cell > 0)
    g_string_append_printf (text, _("Map: seen in %1$u of %2$u cells that were worked."), seen, worked);
  else
    g_string_append_printf (text, _("Map: seen at %1$u of %2$u stations that were at work."), seen, worked);
  for (guint i = 0; i < map->marks->len; i++)
    {
      g_autofree char *words = describe_mark (map, g_ptr_array_index (map->marks, i));

      g_string_append_printf (text, " %s.", words);
    }

  return g_string_free (text, FALSE);
}

static char *
note_map (TptFigure *figure)
{
  return tpt_chart_map_note (get_map (figure));
}

static const char *const map_columns[] = {
  "station", "latitude", "longitude", "state", "detections", "trap_nights", "per_100_nights", NULL
};

static const char *const grid_columns[] = {
  "cell_south", "cell_west", "cell_degrees", "state", "detections", "trap_nights", "per_100_nights", NULL
};

static const TptFigureKind map_kind = {
  .name = "map",
  .columns = map_columns,
  .draw = draw_map,
  .height = get_map_height,
  .plot = get_map_plot,
  .hit = hit_map,
  .add_rows = add_map_rows,
  .describe = describe_map,
  .note = note_map,
  .free_data = free_map,
};

static const TptFigureKind grid_kind = {
  .name = "map",
  .columns = grid_columns,
  .draw = draw_map,
  .height = get_map_height,
  .plot = get_map_plot,
  .hit = hit_map,
  .add_rows = add_grid_rows,
  .describe = describe_map,
  .note = note_map,
  .free_data = free_map,
};
