#include "config.h"

#include "tpt-accumulation-private.h"
#include "tpt-number.h"
#include "tpt-phrases-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* Standard deviations on both sides of a mean that hold 95 % of a normal distribution. */
#define BAND 1.96

static const TptFigureKind accumulation_kind;

static void
clear_level (gpointer level)
{
  g_free (((TptAccumulationLevel *) level)->label);
}

static void
free_accumulation (gpointer data)
{
  TptAccumulation *accumulation = data;

  g_array_unref (accumulation->steps);
  g_array_unref (accumulation->levels);
  g_free (accumulation);
}

TptFigure *
tpt_accumulation_new (void)
{
  TptAccumulation *accumulation = g_new0 (TptAccumulation, 1);

  accumulation->steps = g_array_new (FALSE, FALSE, sizeof (TptAccumulationStep));
  accumulation->levels = g_array_new (FALSE, FALSE, sizeof (TptAccumulationLevel));
  g_array_set_clear_func (accumulation->levels, clear_level);
  return tpt_figure_new (&accumulation_kind, accumulation);
}

void
tpt_accumulation_add (TptFigure *figure, guint n, double mean, double sd)
{
  TptAccumulation *accumulation = tpt_figure_get_data (figure, &accumulation_kind);
  TptAccumulationStep step = { mean, MAX (mean - BAND * sd, 0), mean + BAND * sd };

  g_return_if_fail (n == accumulation->steps->len + 1);

  g_array_append_val (accumulation->steps, step);
}

void
tpt_accumulation_add_level (TptFigure *figure, const char *label, double level, double low, double high)
{
  TptAccumulation *accumulation = tpt_figure_get_data (figure, &accumulation_kind);
  TptAccumulationLevel added = { NULL, level, isfinite (low) ? low : NAN, isfinite (high) ? high : NAN };

  g_return_if_fail (isfinite (level));

  added.label = g_strdup (label);
  g_array_append_val (accumulation->levels, added);
}

const TptAccumulationStep *
tpt_accumulation_get_step (const TptAccumulation *accumulation, guint index)
{
  return &g_array_index (accumulation->steps, TptAccumulationStep, index);
}

const TptAccumulationLevel *
tpt_accumulation_get_level (const TptAccumulation *accumulation, guint index)
{
  return &g_array_index (accumulation->levels, TptAccumulationLevel, index);
}

static void
draw_accumulation (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  tpt_accumulation_paint (tpt_figure_get_data (figure, &accumulation_kind), canvas, area);
}

static double
get_accumulation_height (TptFigure *figure, TptCanvas *canvas, double width)
{
  return tpt_accumulation_get_height (tpt_figure_get_data (figure, &accumulation_kind), canvas);
}

static TptFigureRect
get_accumulation_plot (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  TptAccumulationLayout layout;

  tpt_accumulation_lay_out (tpt_figure_get_data (figure, &accumulation_kind), canvas, area, &layout);
  return layout.plot;
}

/* With all of them there is nothing to choose, and no band. */
static char *
describe_step (const TptAccumulation *accumulation, guint index)
{
  const TptAccumulationStep *step = tpt_accumulation_get_step (accumulation, index);
  g_autofree char *stations = tpt_phrase_stations (index + 1), *mean = tpt_words_number (step->mean);
  g_autofree char *low = tpt_words_number (step->low), *high = tpt_words_number (step->high);

  if (accumulation->steps->len == 1)
    /* Translators: "1 station", a number of species. */
    return g_strdup_printf (_("%1$s: %2$s species seen"), stations, mean);
  if (index + 1 == accumulation->steps->len)
    /* Translators: "15 stations", a number of species. */
    return g_strdup_printf (_("All %1$s: %2$s species seen"), stations, mean);
  /* Translators: "10 stations", a mean number of species and its band. */
  return g_strdup_printf (_("%1$s: %2$s species on average (%3$s to %4$s)"), stations, mean, low, high);
}

static char *
describe_level (const TptAccumulationLevel *level)
{
  g_autofree char *number = tpt_words_number (level->level);
  g_autofree char *low = NULL, *high = NULL;

  if (isnan (level->low) || isnan (level->high))
    /* Translators: how it was estimated, and a number of species. */
    return g_strdup_printf (_("%1$s: %2$s species"), level->label, number);
  low = tpt_words_number (level->low);
  high = tpt_words_number (level->high);
  return g_strdup_printf (_("%1$s: %2$s species (%3$s to %4$s)"), level->label, number, low, high);
}

static void
try_step (const TptAccumulation *accumulation, guint index, TptLayer layer, const TptFigureRect *rect, TptHitTest *test)
{
  if (tpt_hit_test_wants (test, layer, rect))
    tpt_hit_test_take (test, layer, rect, TPT_HIT_CURVE, 0, (int) index, describe_step (accumulation, index), NULL);
}

/* The step is known from the place: the nearest. */
static void
hit_curve (const TptAccumulation *accumulation, const TptAccumulationLayout *layout, TptHitTest *test)
{
  guint n = accumulation->steps->len;
  double slot = layout->plot.width / MAX (n - 1, 1);
  double index = CLAMP (round ((test->x - layout->plot.x) / slot), 0, n - 1.0);
  const TptAccumulationStep *step = tpt_accumulation_get_step (accumulation, (guint) index);
  double x = tpt_accumulation_place (accumulation, layout, (guint) index);
  double y = tpt_value_axis_position (&layout->species, step->mean);
  double top = tpt_value_axis_position (&layout->species, step->high);
  double bottom = tpt_value_axis_position (&layout->species, step->low);
  TptFigureRect band = { x - slot / 2, top, slot, bottom - top }, point = { x - 2, y - 2, 4, 4 };

  try_step (accumulation, (guint) index, TPT_LAYER_BAR, &band, test);
  try_step (accumulation, (guint) index, TPT_LAYER_MARK, &point, test);
}

static void
hit_levels (const TptAccumulation *accumulation, const TptAccumulationLayout *layout, TptCanvas *canvas,
            TptHitTest *test)
{
  for (guint i = 0; i < accumulation->levels->len; i++)
    {
      TptFigureRect rects[] = { tpt_accumulation_get_level_rect (accumulation, layout, canvas, i), { 0 } };
      const TptLayer layers[] = { TPT_LAYER_MARK, TPT_LAYER_ROW };
      gboolean labelled = i + 1 < layout->n_labels;

      if (labelled)
        rects[1] = tpt_accumulation_get_label_rect (layout, canvas, i + 1);
      for (guint r = 0; r < (labelled ? 2 : 1); r++)
        if (tpt_hit_test_wants (test, layers[r], &rects[r]))
          tpt_hit_test_take (test, layers[r], &rects[r], TPT_HIT_CURVE, (int) i + 1, -1,
                             describe_level (tpt_accumulation_get_level (accumulation, i)), NULL);
    }
}

static void
hit_accumulation (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area, TptHitTest *test)
{
  const TptAccumulation *accumulation = tpt_figure_get_data (figure, &accumulation_kind);
  TptAccumulationLayout layout;

  if (accumulation->steps->len == 0)
    return;
  tpt_accumulation_lay_out (accumulation, canvas, area, &layout);
  if (layout.n_labels > 0)
    {
      TptFigureRect rect = tpt_accumulation_get_label_rect (&layout, canvas, 0);

      try_step (accumulation, accumulation->steps->len - 1, TPT_LAYER_ROW, &rect, test);
    }
  hit_curve (accumulation, &layout, test);
  hit_levels (accumulation, &layout, canvas, test);
}

static void
add_accumulation_rows (TptFigure *figure, TptFigureTable *table)
{
  const TptAccumulation *accumulation = tpt_figure_get_data (figure, &accumulation_kind);

  for (guint i = 0; i < accumulation->steps->len; i++)
    {
      const TptAccumulationStep *step = tpt_accumulation_get_step (accumulation, i);

      tpt_figure_table_add (table, g_strdup ("curve"), g_strdup_printf ("%u", i + 1),
                            tpt_number_format_real (step->mean), tpt_number_format_real (step->low),
                            tpt_number_format_real (step->high), NULL);
    }
  for (guint i = 0; i < accumulation->levels->len; i++)
    {
      const TptAccumulationLevel *level = tpt_accumulation_get_level (accumulation, i);

      tpt_figure_table_add (table, g_strdup (level->label), g_strdup (""), tpt_number_format_real (level->level),
                            tpt_number_format_real (level->low), tpt_number_format_real (level->high), NULL);
    }
}

/* One station, half of them, all, and the levels. */
static char *
describe_accumulation (TptFigure *figure)
{
  const TptAccumulation *accumulation = tpt_figure_get_data (figure, &accumulation_kind);
  guint n = accumulation->steps->len;
  const guint told[] = { 0, n / 2 - 1, n - 1 };
  GString *text = g_string_new (_("How many species a number of stations has seen."));

  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    if (told[i] < n && (i == 0 || told[i] > told[i - 1]))
      {
        g_autofree char *words = describe_step (accumulation, told[i]);

        g_string_append_printf (text, " %s.", words);
      }
  for (guint i = 0; i < accumulation->levels->len; i++)
    {
      g_autofree char *words = describe_level (tpt_accumulation_get_level (accumulation, i));

      g_string_append_printf (text, " %s.", words);
    }
  return g_string_free (text, FALSE);
}

static char *
explain_accumulation (TptFigure *figure)
{
  return g_strdup (
    _("Line: mean over all ways to choose that many stations; band: 95 % of them; at the right: what may be there "
      "in all, with its interval"));
}

static const char *const accumulation_columns[] = { "item", "stations", "species", "low", "high", NULL };

static const TptFigureKind accumulation_kind = {
  .name = "accumulation",
  .columns = accumulation_columns,
  .draw = draw_accumulation,
  .height = get_accumulation_height,
  .plot = get_accumulation_plot,
  .hit = hit_accumulation,
  .add_rows = add_accumulation_rows,
  .describe = describe_accumulation,
  .explain = explain_accumulation,
  .free_data = free_accumulation,
};
