#include "config.h"

#include "tpt-months-private.h"
#include "tpt-time-ticks.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* In em. */
#define HEAD_LINE 1.5
#define SAMPLE 1.0       /* a mark before its name */
#define NAMES_APART 1.2

/* Of a month, taken by its marks when there are several: they stand nearer to each other
 * than to those of the next. */
#define GROUP 0.8

static const TptText head_text = { TPT_COLOR_QUIET, .size = 0.9 };
static const TptText name_text = { TPT_COLOR_INK, .size = 0.9 };
static const TptText label_text = { TPT_COLOR_QUIET, .size = 0.9, .across = 0.5 };
static const TptText year_text = { TPT_COLOR_INK, .size = 0.9, .across = 0.5 };

/* @month: 1 to 12 */
typedef struct {
  double left;
  double right;
  int year;
  int month;
} Slot;

static double
measure (TptCanvas *canvas, const char *words, const TptText *text)
{
  double width, height;

  tpt_canvas_measure (canvas, words, text, &width, &height);
  return ceil (width);
}

static gboolean
has_legend (const TptMonths *months)
{
  return months->series->len > 1;
}

static const char *
get_label (const TptMonths *months, guint s)
{
  const TptMonthsSeries *series = g_ptr_array_index (months->series, s);

  return series->label != NULL ? series->label : "";
}

static double
measure_legend (const TptMonths *months, TptCanvas *canvas)
{
  double width = 0;

  for (guint s = 0; s < months->series->len; s++)
    width += (SAMPLE + (s > 0 ? NAMES_APART : 0)) * canvas->em + measure (canvas, get_label (months, s), &name_text);
  return width;
}

void
tpt_months_lay_out (const TptMonths *months, TptCanvas *canvas, const TptFigureRect *area, TptMonthsLayout *layout)
{
  double inset = tpt_canvas_get_inset (canvas), head = HEAD_LINE * canvas->em;
  double units = measure (canvas, _("per 100 trap nights"), &head_text) + 2 * canvas->em;
  TptFigureRect inner = *area;

  layout->head = area->y + 0.2 * canvas->em;
  layout->legend_below = has_legend (months) && units + measure_legend (months, canvas) > area->width - 2 * inset;
  head *= layout->legend_below ? 2 : 1;
  inner.y += head;
  inner.height = MAX (area->height - head - tpt_time_axis_height (canvas->style), 1);

  tpt_months_set_scale (months, &layout->scale);
  tpt_rate_scale_lay_out (&layout->scale, canvas, &inner);
  layout->axis = (TptTimeAxis) { months->range, layout->scale.plot.x, layout->scale.plot.x + layout->scale.plot.width,
                                 months->zone };
}

double
tpt_months_get_height (TptCanvas *canvas)
{
  return ceil (tpt_rate_scale_get_height (canvas) + tpt_time_axis_height (canvas->style) + 2 * HEAD_LINE * canvas->em);
}

double
tpt_months_place (const TptMonths *months, const TptMonthsLayout *layout, guint series, const TptMonth *month,
                  double *room)
{
  double left = tpt_time_axis_position (&layout->axis, month->when.from);
  double right = tpt_time_axis_position (&layout->axis, month->when.to);
  guint n = months->series->len;

  *room = (right - left) * (n > 1 ? GROUP : 1) / n;
  return (left + right) / 2 + (series - (n - 1) / 2.0) * *room;
}

/* (transfer full) (element-type Slot): every month of the axis. */
static GArray *
make_slots (const TptMonths *months, const TptTimeAxis *axis)
{
  g_autoptr (GArray) ticks = tpt_time_ticks_at_step (months->range, months->zone, (TptTickStep) { TPT_TICK_MONTHS, 1 });
  GArray *slots = g_array_new (FALSE, FALSE, sizeof (Slot));

  for (guint i = 0; i < ticks->len; i++)
    {
      TptInstant at = g_array_index (ticks, TptTick, i).at;
      TptInstant next = i + 1 < ticks->len ? g_array_index (ticks, TptTick, i + 1).at : months->range.to;
      Slot slot = { tpt_time_axis_position (axis, at), tpt_time_axis_position (axis, next), 0, 0 };
      int day;

      if (next <= at)
        continue;
      tpt_civil_from_days (tpt_zone_local_day (months->zone, at), &slot.year, &slot.month, &day);
      g_array_append_val (slots, slot);
    }
  return slots;
}

/* Every month that is named, counted from January; 12 for none but January. */
static int
choose_step (TptCanvas *canvas, GArray *slots)
{
  static const int steps[] = { 1, 2, 3, 6 };
  double widest = 0, narrowest = G_MAXDOUBLE;

  for (int month = 1; month <= 12; month++)
    widest = MAX (widest, measure (canvas, tpt_words_month_short (month), &label_text));
  for (guint i = 0; i < slots->len; i++)
    narrowest = MIN (narrowest, g_array_index (slots, Slot, i).right - g_array_index (slots, Slot, i).left);
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i] * narrowest >= widest + 0.5 * canvas->em)
      return steps[i];
  return 12;
}

/* Words around the middle of a slot that stay between the ends of the axis. */
static TptFigureRect
place_words (TptCanvas *canvas, const TptTimeAxis *axis, const Slot *slot, const char *words, double y,
             const TptText *text)
{
  TptFigureRect rect = tpt_canvas_place (canvas, words, (slot->left + slot->right) / 2, y, text);

  rect.x = MIN (rect.x, axis->right + 0.4 * canvas->em - rect.width);
  rect.x = MAX (rect.x, axis->left - 0.6 * canvas->em);
  return rect;
}

static void
write_months (TptCanvas *canvas, const TptTimeAxis *axis, GArray *slots, int step, double y)
{
  TptText text = label_text;

  text.across = 0;
  for (guint i = 0; i < slots->len; i++)
    {
      const Slot *slot = &g_array_index (slots, Slot, i);
      const char *words = tpt_words_month_short (slot->month);
      TptFigureRect rect = place_words (canvas, axis, slot, words, y, &label_text);

      if ((slot->month - 1) % step == 0)
        tpt_canvas_write (canvas, words, rect.x, rect.y, &text);
    }
}

/* A year stands below the first of its months that is named. The first year may be a
 * rest of one: it gives way to the next. */
static void
write_years (TptCanvas *canvas, const TptTimeAxis *axis, GArray *slots, int step, double y)
{
  TptText text = year_text;
  TptFigureRect waiting = { 0 };
  int year = G_MININT, waiting_for = G_MININT, n = 0;

  text.across = 0;
  for (guint i = 0; i <= slots->len; i++)
    {
      const Slot *slot = i < slots->len ? &g_array_index (slots, Slot, i) : NULL;
      g_autofree char *words = slot != NULL ? g_strdup_printf ("%d", slot->year) : NULL;
      TptFigureRect rect = { G_MAXDOUBLE };
      gboolean apart;

      if (slot != NULL && (slot->year == year || (slot->month - 1) % step != 0))
        continue;
      if (slot != NULL)
        rect = place_words (canvas, axis, slot, words, y, &year_text);
      apart = rect.x > waiting.x + waiting.width + 0.5 * canvas->em;
      if (waiting_for != G_MININT && apart)
        {
          g_autofree char *last = g_strdup_printf ("%d", waiting_for);

          tpt_canvas_write (canvas, last, waiting.x, waiting.y, &text);
        }
      if (slot == NULL)
        return;
      year = slot->year;
      if (n++ > 1 && !apart)
        continue;
      waiting = rect;
      waiting_for = year;
    }
}

static void
draw_axis (const TptMonths *months, TptCanvas *canvas, const TptMonthsLayout *layout)
{
  g_autoptr (GArray) slots = make_slots (months, &layout->axis);
  const TptFigureRect *effort = &layout->scale.effort;
  double y = effort->y + effort->height + 0.8 * canvas->em;
  int step = choose_step (canvas, slots);

  tpt_canvas_set (canvas, TPT_COLOR_FAINT, 1);
  for (guint i = 0; i < slots->len; i++)
    {
      const Slot *slot = &g_array_index (slots, Slot, i);
      double x = floor (slot->left) + 0.5;

      if (slot->month == 1 && slot->left > layout->axis.left)
        tpt_canvas_rule (canvas, x, layout->scale.plot.y, x, effort->y + effort->height, 1);
    }
  if (step < 12)
    write_months (canvas, &layout->axis, slots, step, y);
  write_years (canvas, &layout->axis, slots, step, y + (step < 12 ? 1.2 * canvas->em : 0));
}

/* A month that has no trend parts the line. */
static void
draw_trend (const TptMonths *months, TptCanvas *canvas, const TptMonthsLayout *layout, guint s)
{
  const TptMonthsSeries *series = g_ptr_array_index (months->series, s);
  const TptFigureRect *plot = &layout->scale.plot;
  gboolean drawing = FALSE;

  cairo_save (canvas->cr);
  cairo_rectangle (canvas->cr, plot->x, plot->y, plot->width, plot->height);
  cairo_clip (canvas->cr);
  cairo_new_path (canvas->cr);
  for (guint i = 0; i < series->months->len; i++)
    {
      const TptMonth *month = &g_array_index (series->months, TptMonth, i);
      double room, x = tpt_months_place (months, layout, s, month, &room);

      if (!isnan (month->fitted) && drawing)
        cairo_line_to (canvas->cr, x, tpt_rate_scale_place (&layout->scale, month->fitted));
      else if (!isnan (month->fitted))
        cairo_move_to (canvas->cr, x, tpt_rate_scale_place (&layout->scale, month->fitted));
      drawing = !isnan (month->fitted);
    }
  tpt_canvas_set (canvas, tpt_rate_mark_color ((int) s), 0.9);
  cairo_set_line_width (canvas->cr, 1);
  cairo_stroke (canvas->cr);
  cairo_restore (canvas->cr);
}

typedef void (*DrawMark) (const TptRateScale *scale, TptCanvas *canvas, const TptRateMark *mark, int series, double x,
                          double room, double alpha);

static void
draw_each (const TptMonths *months, TptCanvas *canvas, const TptMonthsLayout *layout, DrawMark draw)
{
  for (guint s = 0; s < months->series->len; s++)
    {
      const TptMonthsSeries *series = g_ptr_array_index (months->series, s);

      for (guint i = 0; i < series->months->len; i++)
        {
          const TptMonth *month = &g_array_index (series->months, TptMonth, i);
          TptRateMark mark = tpt_months_get_mark (month);
          double room, x = tpt_months_place (months, layout, s, month, &room);

          draw (&layout->scale, canvas, &mark, (int) s, x, room, 1);
        }
    }
}

/* Beside the units when they fit there, else below them; a name is cut when the line is
 * not wide enough for all. */
static void
write_legend (const TptMonths *months, TptCanvas *canvas, const TptMonthsLayout *layout, const TptFigureRect *area)
{
  double em = canvas->em, inset = tpt_canvas_get_inset (canvas), width = area->width - 2 * inset;
  double wanted = measure_legend (months, canvas), most = width / months->series->len - (SAMPLE + NAMES_APART) * em;
  double x = layout->legend_below ? area->x + inset : area->x + inset + width - wanted;
  double y = layout->head + (layout->legend_below ? HEAD_LINE * em : 0);

  for (guint s = 0; s < months->series->len; s++)
    {
      TptText text = name_text;
      double room = measure (canvas, get_label (months, s), &name_text) + 1;

      if (wanted > width)
        room = MIN (room, MAX (most, em));
      text.width = room;
      tpt_rate_mark_draw_sample (canvas, (int) s, x + 0.4 * em, y + 0.6 * em);
      tpt_canvas_write (canvas, get_label (months, s), x + SAMPLE * em, y, &text);
      x += room + (SAMPLE + NAMES_APART) * em;
    }
}

void
tpt_months_paint (const TptMonths *months, TptCanvas *canvas, const TptFigureRect *area)
{
  const TptFigureRect *plot, *effort;
  TptMonthsLayout layout;

  if (!tpt_months_have_effort (months))
    {
      tpt_canvas_say (canvas, area, _("No camera was at work in these months: there is no rate to show."));
      return;
    }
  tpt_months_lay_out (months, canvas, area, &layout);
  plot = &layout.scale.plot;
  effort = &layout.scale.effort;
  tpt_canvas_write (canvas, _("per 100 trap nights"), area->x + tpt_canvas_get_inset (canvas), layout.head, &head_text);
  if (has_legend (months))
    write_legend (months, canvas, &layout, area);
  tpt_rate_scale_draw (&layout.scale, canvas);
  draw_axis (months, canvas, &layout);
  draw_each (months, canvas, &layout, tpt_rate_effort_draw);
  tpt_time_axis_draw_brush (&layout.axis, canvas->cr, plot->y, effort->y + effort->height, canvas->style);
  for (guint s = 0; s < months->series->len; s++)
    draw_trend (months, canvas, &layout, s);
  draw_each (months, canvas, &layout, tpt_rate_mark_draw);
}
