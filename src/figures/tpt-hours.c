#include "config.h"

#include "sci-circular.h"
#include "tpt-hours-private.h"
#include "tpt-number.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind hours_kind;

static void
free_row (gpointer data)
{
  TptHoursRow *row = data;

  g_free (row->label);
  g_free (row->key);
  g_free (row->why_not);
  g_free (row->hours);
  g_free (row->density);
  g_free (row->low);
  g_free (row->high);
  g_free (row);
}

static void
free_hours (gpointer data)
{
  TptHours *hours = data;

  g_ptr_array_unref (hours->rows);
  g_free (hours);
}

TptFigure *
tpt_hours_new (TptHoursClock clock)
{
  TptHours *hours = g_new0 (TptHours, 1);

  hours->clock = clock;
  hours->sun = (TptHoursSun) { NAN, NAN, NAN, NAN, NAN };
  hours->rows = g_ptr_array_new_with_free_func (free_row);
  return tpt_figure_new (&hours_kind, hours);
}

void
tpt_hours_set_sun (TptFigure *figure,
                   const TptHoursSun *sun)
{
  TptHours *hours = tpt_figure_get_data (figure, &hours_kind);

  hours->sun = *sun;
}

/* Percent, as it is drawn and told. */
static double *
copy_percent (const double *from,
              guint n)
{
  double *percent = from != NULL && n > 0 ? g_new (double, n) : NULL;

  for (guint i = 0; percent != NULL && i < n; i++)
    percent[i] = 100 * from[i];
  return percent;
}

int
tpt_hours_add_series (TptFigure *figure,
                      const TptHoursSeries *series)
{
  TptHours *hours = tpt_figure_get_data (figure, &hours_kind);
  TptHoursRow *row = g_new0 (TptHoursRow, 1);

  row->label = g_strdup (series->label);
  row->key = g_strdup (series->key);
  row->why_not = g_strdup (series->why_not);
  row->n = series->n;
  row->hours = g_memdup2 (series->hours, series->n * sizeof (double));
  for (guint i = 0; i < row->n; i++)
    row->counts[CLAMP ((int) row->hours[i], 0, 23)]++;
  row->points = series->points;
  row->density = copy_percent (series->density, series->points);
  row->low = row->density != NULL ? copy_percent (series->low, series->points) : NULL;
  row->high = row->density != NULL ? copy_percent (series->high, series->points) : NULL;
  g_ptr_array_add (hours->rows, row);
  return (int) hours->rows->len - 1;
}

double
tpt_hours_at (const TptHoursRow *row,
              const double *curve,
              double hour)
{
  double at = hour / 24 * row->points;
  guint before = (guint) floor (at);
  double share = at - floor (at);

  if (curve == NULL)
    return NAN;
  return (1 - share) * curve[before % row->points] + share * curve[(before + 1) % row->points];
}

gboolean
tpt_hours_has_light (const TptHours *hours)
{
  const TptHoursSun *sun = &hours->sun;

  return !isnan (sun->rise_first + sun->rise_last + sun->set_first + sun->set_last + sun->twilight);
}

gboolean
tpt_hours_has_bars (const TptHours *hours)
{
  return hours->rows->len == 1;
}

double
tpt_hours_get_bar (const TptHoursRow *row,
                   guint hour)
{
  return row->n > 0 ? 100.0 * row->counts[hour] / row->n : 0;
}

gboolean
tpt_hours_has_band (const TptHoursRow *row)
{
  if (row->low == NULL || row->high == NULL)
    return FALSE;
  for (guint i = 0; i < row->points; i++)
    if (isnan (row->low[i]) || isnan (row->high[i]))
      return FALSE;
  return TRUE;
}

static void
draw_hours (TptFigure *figure,
            TptCanvas *canvas,
            const TptFigureRect *area)
{
  tpt_hours_paint (tpt_figure_get_data (figure, &hours_kind), canvas, area);
}

static double
get_hours_height (TptFigure *figure,
                  TptCanvas *canvas,
                  double width)
{
  return tpt_hours_get_height (tpt_figure_get_data (figure, &hours_kind), canvas, width);
}

static TptFigureRect
get_hours_plot (TptFigure *figure,
                TptCanvas *canvas,
                const TptFigureRect *area)
{
  TptHoursLayout layout;

  tpt_hours_lay_out (tpt_figure_get_data (figure, &hours_kind), canvas, area, &layout);
  return layout.plot;
}

/* How far @y is from what is drawn of a series in an hour. */
static double
get_distance (const TptHoursRow *row,
              const TptHoursLayout *layout,
              guint index,
              double hour,
              double y)
{
  TptFigureRect lane = tpt_hours_get_lane (layout, index);

  if (y >= lane.y && y < lane.y + lane.height)
    return -1;
  if (row->density != NULL)
    return fabs (y - tpt_value_axis_position (&layout->axis, tpt_hours_at (row, row->density, hour)));
  return MAX (lane.y - y, y - lane.y - lane.height);
}

/* An hour is a column; of several series the nearest in it is meant. */
static void
hit_hours (TptFigure *figure,
           TptCanvas *canvas,
           const TptFigureRect *area,
           TptHitTest *test)
{
  const TptHours *hours = tpt_figure_get_data (figure, &hours_kind);
  const TptHoursRow *row = NULL;
  double nearest = G_MAXDOUBLE;
  TptHoursLayout layout;
  TptFigureRect rect;
  guint hour, index = 0;

  tpt_hours_lay_out (hours, canvas, area, &layout);
  hour = (guint) CLAMP ((test->x - layout.plot.x) / layout.plot.width * 24, 0, 23);
  rect = (TptFigureRect) { tpt_hours_place (&layout, hour), layout.plot.y, layout.plot.width / 24,
                           layout.plot.height + hours->rows->len * layout.lane_height };
  if (!tpt_hit_test_wants (test, TPT_LAYER_AREA, &rect))
    return;

  for (guint i = 0; i < hours->rows->len; i++)
    {
      double distance = get_distance (g_ptr_array_index (hours->rows, i), &layout, i,
                                      (test->x - layout.plot.x) / layout.plot.width * 24, test->y);

      if (distance >= nearest)
        continue;
      nearest = distance;
      row = g_ptr_array_index (hours->rows, i);
      index = i;
    }
  if (row == NULL)
    return;
  tpt_hit_test_take (test, TPT_LAYER_AREA, &rect, TPT_HIT_HOUR, (int) index, (int) hour,
                     tpt_hours_say_hour (hours, row, hour), row->key);
  tpt_hit_test_tell (test, NULL, (TptRange) { TPT_NO_INSTANT, TPT_NO_INSTANT }, hour, hour + 1);
}

/* Empty cells for NAN. */
static void
add_row (TptFigureTable *table,
         const TptHoursRow *row,
         const char *item,
         double from,
         double to,
         char *records,
         double value,
         double low,
         double high)
{
  tpt_figure_table_add (table, g_strdup (row != NULL && row->label != NULL ? row->label : ""), g_strdup (item),
                        tpt_number_format_real (from), tpt_number_format_real (to), records,
                        tpt_number_format_real (value), tpt_number_format_real (low),
                        tpt_number_format_real (high), NULL);
}

static void
add_series_rows (const TptHours *hours,
                 const TptHoursRow *row,
                 TptFigureTable *table)
{
  gboolean banded = tpt_hours_has_band (row);
  g_autofree double *sorted = g_memdup2 (row->hours, row->n * sizeof (double));

  sci_hours_sort (sorted, row->n);
  for (guint i = 0; i < 24; i++)
    add_row (table, row, "hour", i, i + 1, g_strdup_printf ("%u", row->counts[i]),
             tpt_hours_has_bars (hours) && row->n > 0 ? tpt_hours_get_bar (row, i) : NAN, NAN, NAN);
  for (guint i = 0; row->density != NULL && i < row->points; i++)
    add_row (table, row, "curve", 24.0 * i / row->points, NAN, g_strdup (""), row->density[i],
             banded ? row->low[i] : NAN, banded ? row->high[i] : NAN);
  for (guint i = 0; i < row->n; i++)
    add_row (table, row, "record", sorted[i], NAN, g_strdup ("1"), NAN, NAN, NAN);
}

static void
add_hours_rows (TptFigure *figure,
                TptFigureTable *table)
{
  const TptHours *hours = tpt_figure_get_data (figure, &hours_kind);
  const TptHoursSun *sun = &hours->sun;
  const struct {
    const char *item;
    double from, to;
  } lights[] = {
    { "dawn", sun->rise_first - sun->twilight, sun->rise_last - sun->twilight },
    { "sunrise", sun->rise_first, sun->rise_last },
    { "sunset", sun->set_first, sun->set_last },
    { "dusk", sun->set_first + sun->twilight, sun->set_last + sun->twilight },
  };

  for (guint i = 0; i < hours->rows->len; i++)
    add_series_rows (hours, g_ptr_array_index (hours->rows, i), table);
  for (guint i = 0; tpt_hours_has_light (hours) && i < G_N_ELEMENTS (lights); i++)
    add_row (table, NULL, lights[i].item, lights[i].from, lights[i].to, g_strdup (""), NAN, NAN, NAN);
}

static char *
describe_hours (TptFigure *figure)
{
  return tpt_hours_describe (tpt_figure_get_data (figure, &hours_kind));
}

static char *
note_hours (TptFigure *figure)
{
  const TptHours *hours = tpt_figure_get_data (figure, &hours_kind);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < hours->rows->len; i++)
    {
      g_autofree char *reason = tpt_hours_say_reason (hours, g_ptr_array_index (hours->rows, i));

      if (reason != NULL)
        g_string_append_printf (text, "%s%s", text->len > 0 ? ". " : "", reason);
    }
  return g_string_free (text, text->len == 0);
}

static char *
explain_hours (TptFigure *figure)
{
  const TptHours *hours = tpt_figure_get_data (figure, &hours_kind);
  GString *text = g_string_new (NULL);
  gboolean curve = FALSE, band = FALSE;

  for (guint i = 0; i < hours->rows->len; i++)
    {
      const TptHoursRow *row = g_ptr_array_index (hours->rows, i);

      curve = curve || row->density != NULL;
      band = band || tpt_hours_has_band (row);
    }
  if (curve)
    g_string_append (text, band ? _("Curve: how detections spread over the day, with its band; ")
                                : _("Curve: how detections spread over the day; "));
  if (tpt_hours_has_bars (hours))
    g_string_append (text, _("bars: share counted in each whole hour; "));
  g_string_append (text, _("ticks: one for each detection"));
  if (tpt_hours_has_light (hours))
    g_string_append (text, _("; shaded: night, and twilight beside it"));
  return g_string_free (text, FALSE);
}

static const char *const hours_columns[] = {
  "series", "item", "from_hour", "to_hour", "records", "percent_per_hour", "low", "high", NULL
};

static const TptFigureKind hours_kind = {
  .name = "hours",
  .columns = hours_columns,
  .draw = draw_hours,
  .height = get_hours_height,
  .plot = get_hours_plot,
  .hit = hit_hours,
  .add_rows = add_hours_rows,
  .describe = describe_hours,
  .note = note_hours,
  .explain = explain_hours,
  .free_data = free_hours,
  .axis_of_hours = TRUE,
};
