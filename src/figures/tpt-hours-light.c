#include "config.h"

#include "tpt-hours-private.h"

#include <glib/gi18n-lib.h>

/* Hours: the two sides of a sudden change. */
#define NEAR 1e-6

/* Share of the days on which an event that comes between @first and @last has come by @hour. */
static double
has_come (double hour,
          double first,
          double last)
{
  if (last > first)
    return CLAMP ((hour - first) / (last - first), 0, 1);
  return hour >= first ? 1 : 0;
}

/* Share of the days on which @hour lies between @rise and @set. Where a late sunset runs over
 * midnight, the hours of the next day count. */
static double
get_share_between (double hour,
                   double rise_first,
                   double rise_last,
                   double set_first,
                   double set_last)
{
  double share = 0;

  for (int turn = -24; turn <= 24; turn += 24)
    share += has_come (hour + turn, rise_first, rise_last) - has_come (hour + turn, set_first, set_last);
  return CLAMP (share, 0, 1);
}

double
tpt_hours_get_night (const TptHoursSun *sun,
                     double hour)
{
  return 1 - get_share_between (hour, sun->rise_first - sun->twilight, sun->rise_last - sun->twilight,
                                sun->set_first + sun->twilight, sun->set_last + sun->twilight);
}

double
tpt_hours_get_twilight (const TptHoursSun *sun,
                        double hour)
{
  double day = get_share_between (hour, sun->rise_first, sun->rise_last, sun->set_first, sun->set_last);

  return MAX (1 - tpt_hours_get_night (sun, hour) - day, 0);
}

static int
compare_knots (gconstpointer a,
               gconstpointer b)
{
  double first = *(const double *) a, second = *(const double *) b;

  return (first > second) - (first < second);
}

/* Where the light changes its course, both sides of each, between 0 and 24. */
static GArray *
find_knots (const TptHoursSun *sun)
{
  const double turns[] = {
    sun->rise_first - sun->twilight, sun->rise_last - sun->twilight, sun->rise_first, sun->rise_last,
    sun->set_first, sun->set_last, sun->set_first + sun->twilight, sun->set_last + sun->twilight,
  };
  GArray *knots = g_array_new (FALSE, FALSE, sizeof (double));
  const double ends[] = { 0, 24 };

  g_array_append_vals (knots, ends, 2);
  for (guint i = 0; i < G_N_ELEMENTS (turns); i++)
    for (int side = -1; side <= 1; side += 2)
      {
        double knot = turns[i] - 24 * floor (turns[i] / 24) + side * NEAR;

        if (knot > 0 && knot < 24)
          g_array_append_val (knots, knot);
      }
  g_array_sort (knots, compare_knots);
  return knots;
}

/* Dark paper has no room for a shade: there night is darker than it. */
static TptColor
get_night_color (TptCanvas *canvas,
                 double *alpha)
{
  TptPalette palette = canvas->style->palette;

  *alpha = palette == TPT_PALETTE_DARK ? 0.75 : 0.11;
  return tpt_palette_color (palette, palette == TPT_PALETTE_DARK ? TPT_COLOR_ON_ACCENT : TPT_COLOR_INK);
}

static void
fill_light (TptCanvas *canvas,
            const TptHoursLayout *layout,
            const TptHoursSun *sun,
            double (*get_share) (const TptHoursSun *sun, double hour),
            TptColor color,
            double alpha)
{
  const TptFigureRect *plot = &layout->plot;
  cairo_pattern_t *pattern = cairo_pattern_create_linear (plot->x, 0, plot->x + plot->width, 0);
  g_autoptr (GArray) knots = find_knots (sun);

  for (guint i = 0; i < knots->len; i++)
    {
      double hour = g_array_index (knots, double, i);

      cairo_pattern_add_color_stop_rgba (pattern, hour / 24, color.red, color.green, color.blue,
                                         alpha * get_share (sun, hour));
    }
  cairo_set_source (canvas->cr, pattern);
  cairo_pattern_destroy (pattern);
  cairo_rectangle (canvas->cr, plot->x, plot->y, plot->width, plot->height);
  cairo_fill (canvas->cr);
}

/* A name in the middle of a stretch, where it fits. */
static void
write_name (TptCanvas *canvas,
            const TptHoursLayout *layout,
            const char *name,
            double from,
            double to)
{
  TptText text = { TPT_COLOR_QUIET, .size = 0.85, .italic = TRUE, .across = 0.5 };
  double left = tpt_hours_place (layout, MAX (from, 0)), right = tpt_hours_place (layout, MIN (to, 24));
  double width, height;

  tpt_canvas_measure (canvas, name, &text, &width, &height);
  if (right - left >= width + 0.6 * canvas->em)
    tpt_canvas_write (canvas, name, (left + right) / 2, layout->plot.y + 0.2 * canvas->em, &text);
}

void
tpt_hours_paint_light (const TptHours *hours,
                       const TptHoursLayout *layout,
                       TptCanvas *canvas)
{
  const TptHoursSun *sun = &hours->sun;
  TptColor twilight = tpt_palette_color (canvas->style->palette, TPT_COLOR_SOON);
  TptColor night;
  double alpha;

  if (!tpt_hours_has_light (hours))
    return;

  night = get_night_color (canvas, &alpha);
  fill_light (canvas, layout, sun, tpt_hours_get_night, night, alpha);
  fill_light (canvas, layout, sun, tpt_hours_get_twilight, twilight, 0.28);
  write_name (canvas, layout, _("night"), 0, sun->rise_first - sun->twilight);
  write_name (canvas, layout, _("day"), sun->rise_last, sun->set_first);
  write_name (canvas, layout, _("night"), sun->set_last + sun->twilight, 24);
}
