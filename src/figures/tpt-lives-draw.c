#include "config.h"

#include "tpt-lives-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* In em. */
#define ROW 1.55
#define PLOT_WANTED 20.0
#define PLOT_LEAST 7.0
#define AXIS 2.9 /* ticks, their numbers, and what they are */
#define HEAD 1.5 /* above the rows */
#define SCALE_WIDTH 3.6 /* for "100 %" */
#define SAMPLE 2.6 /* of a curve, before its name */
#define TICK_APART 5.0

/* Round numbers of days, and years. */
static double
choose_step (double days, double room)
{
  static const double steps[] = { 1, 2, 5, 10, 20, 30, 50, 60, 90, 100, 180, 200, 250, 365, 500, 730, 1000, 1825, 3650 };

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (days / steps[i] <= room)
      return steps[i];
  return ceil (days / room / 3650) * 3650;
}

static double
measure_labels (const TptLives *lives, TptCanvas *canvas)
{
  const TptText text = { TPT_COLOR_INK };
  double widest = 0;

  for (guint i = 0; i < lives->groups->len; i++)
    {
      double width, height;

      tpt_canvas_measure (canvas, ((TptLivesGroup *) g_ptr_array_index (lives->groups, i))->label, &text, &width, &height);
      widest = MAX (widest, width);
    }
  return ceil (widest) + 1;
}

void
tpt_lives_lay_out (const TptLives *lives, TptCanvas *canvas, const TptFigureRect *area, TptLivesLayout *layout)
{
  double em = canvas->em, left, right, room;
  double fixed = (AXIS + HEAD) * em + 0.8 * em;

  layout->row_height = ROW * em;
  room = MAX (area->height - fixed - PLOT_LEAST * em, 0);
  layout->n_shown = MIN (lives->groups->len, (guint) (room / layout->row_height));
  if (layout->n_shown < lives->groups->len && layout->n_shown > 0)
    layout->n_shown--; /* the line that says so */
  layout->label_x = area->x + tpt_canvas_get_inset (canvas) + SAMPLE * em;
  layout->label_width = MIN (measure_labels (lives, canvas), MAX (0.3 * area->width - SAMPLE * em, 3 * em));

  left = floor (MAX (layout->label_x + layout->label_width + 1.8 * em, area->x + SCALE_WIDTH * em));
  right = floor (area->x + area->width - 1.6 * em);
  layout->plot = (TptFigureRect) { left, floor (area->y + 0.8 * em), MAX (right - left, 1), 0 };
  layout->plot.height = MAX (floor (area->height - fixed - layout->row_height *
                                    (layout->n_shown + (layout->n_shown < lives->groups->len))), 1);
  layout->rows = layout->plot.y + layout->plot.height + (AXIS + HEAD) * em;
  layout->step = choose_step (MAX (lives->oldest, 1), MAX (layout->plot.width / (TICK_APART * em), 1));
  layout->days = MAX (lives->oldest, 1);
}

double
tpt_lives_get_height (const TptLives *lives, TptCanvas *canvas)
{
  return ceil ((PLOT_WANTED + AXIS + HEAD + 0.8 + ROW * lives->groups->len) * canvas->em) + 1;
}

static double
place_age (const TptLivesLayout *layout, double days)
{
  return layout->plot.x + layout->plot.width * days / layout->days;
}

static double
place_share (const TptLivesLayout *layout, double share)
{
  return layout->plot.y + layout->plot.height * (1 - share);
}

TptFigureRect
tpt_lives_get_step_rect (const TptLivesLayout *layout, const TptLivesGroup *group, guint index)
{
  double from = group->steps[index].days;
  double to = index + 1 < group->n_steps ? group->steps[index + 1].days : group->ends[group->n_ends - 1].days;

  return (TptFigureRect) { place_age (layout, from), place_share (layout, group->steps[index].survival) - 1,
                           MAX (place_age (layout, to) - place_age (layout, from), 1), 2 };
}

TptFigureRect
tpt_lives_get_row_rect (const TptLivesLayout *layout, const TptFigureRect *area, guint row)
{
  return (TptFigureRect) { area->x, layout->rows + row * layout->row_height, area->width, layout->row_height };
}

static void
draw_scale (TptCanvas *canvas, const TptLivesLayout *layout)
{
  static const double shares[] = { 0, 0.25, 0.5, 0.75, 1 };
  TptText text = { TPT_COLOR_QUIET, .size = 0.9, .across = 1, .down = 0.5 };

  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    {
      double y = round (place_share (layout, shares[i])) + 0.5;
      g_autofree char *words = g_strdup_printf (_("%.0f %%"), 100 * shares[i]);

      tpt_canvas_set (canvas, TPT_COLOR_FAINT, 1);
      tpt_canvas_rule (canvas, layout->plot.x, y, layout->plot.x + layout->plot.width, y, 1);
      tpt_canvas_write (canvas, words, layout->plot.x - 0.6 * canvas->em, y, &text);
    }
}

static void
draw_ages (TptCanvas *canvas, const TptLivesLayout *layout)
{
  double bottom = layout->plot.y + layout->plot.height;
  TptText number = { TPT_COLOR_QUIET, .size = 0.9, .across = 0.5 };
  TptText what = { TPT_COLOR_QUIET, .size = 0.9, .across = 1 };

  for (double days = 0; days <= layout->days; days += layout->step)
    {
      double x = round (place_age (layout, days)) + 0.5;
      g_autofree char *words = tpt_words_number (days);

      tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
      tpt_canvas_rule (canvas, x, bottom, x, bottom + 0.35 * canvas->em, 1);
      tpt_canvas_write (canvas, words, x, bottom + 0.4 * canvas->em, &number);
    }
  tpt_canvas_write (canvas, _("age in days"), layout->plot.x + layout->plot.width, bottom + 1.65 * canvas->em, &what);
}

/* Steps from (0, 1) to the last age. */
static void
trace_steps (TptCanvas *canvas, const TptLivesLayout *layout, const TptLivesGroup *group)
{
  double last = group->ends[group->n_ends - 1].days, y = 1;

  cairo_line_to (canvas->cr, place_age (layout, 0), place_share (layout, y));
  for (guint i = 0; i < group->n_steps; i++)
    {
      double x = place_age (layout, group->steps[i].days);

      cairo_line_to (canvas->cr, x, place_share (layout, y));
      y = group->steps[i].survival;
      cairo_line_to (canvas->cr, x, place_share (layout, y));
    }
  cairo_line_to (canvas->cr, place_age (layout, last), place_share (layout, y));
}

/* Where there are no limits the band ends. */
static guint
count_banded (const TptLivesGroup *group)
{
  guint n = 0;

  while (n < group->n_steps && !isnan (group->steps[n].low))
    n++;
  return n;
}

static void
draw_band (TptCanvas *canvas, const TptLivesLayout *layout, const TptLivesGroup *group, guint index)
{
  guint n = count_banded (group);
  double end = n < group->n_steps ? group->steps[n].days : group->ends[group->n_ends - 1].days;

  cairo_new_path (canvas->cr);
  for (guint i = 0; i < n; i++)
    {
      double to = i + 1 < n ? group->steps[i + 1].days : end;
      double top = place_share (layout, group->steps[i].high), bottom = place_share (layout, group->steps[i].low);
      double left = place_age (layout, group->steps[i].days);

      cairo_rectangle (canvas->cr, left, top, place_age (layout, to) - left, bottom - top);
    }
  tpt_canvas_set (canvas, TPT_COLOR_SERIES_1 + index % TPT_N_SERIES, 0.12);
  cairo_fill (canvas->cr);
}

static void
draw_curve (TptCanvas *canvas, const TptLivesLayout *layout, const TptLivesGroup *group, guint index)
{
  cairo_save (canvas->cr);
  cairo_new_path (canvas->cr);
  trace_steps (canvas, layout, group);
  tpt_canvas_set_series (canvas, index);
  cairo_stroke (canvas->cr);
  cairo_set_dash (canvas->cr, NULL, 0, 0);
  for (guint i = 0; i < group->n_ends; i++)
    {
      double x = place_age (layout, group->ends[i].days);
      double y = place_share (layout, tpt_lives_find_survival (group, group->ends[i].days));

      if (!group->ends[i].failed)
        tpt_canvas_rule (canvas, x, y - 0.3 * canvas->em, x, y + 0.3 * canvas->em, 1.1);
    }
  cairo_restore (canvas->cr);
}

static void
draw_row_numbers (TptCanvas *canvas, const TptLivesLayout *layout, const TptLivesGroup *group, double middle)
{
  TptText text = { TPT_COLOR_INK, .size = 0.92, .across = 0.5, .down = 0.5 };

  for (double days = 0; days <= layout->days; days += layout->step)
    {
      g_autofree char *words = g_strdup_printf ("%u", tpt_lives_count_at_risk (group, days));

      tpt_canvas_write (canvas, words, place_age (layout, days), middle, &text);
    }
}

/* The row is the legend as well: a sample of the curve before the name. */
static void
draw_row (TptCanvas *canvas, const TptLivesLayout *layout, const TptFigureRect *area, const TptLivesGroup *group, guint index)
{
  TptFigureRect rect = tpt_lives_get_row_rect (layout, area, index);
  double middle = rect.y + rect.height / 2, left = area->x + tpt_canvas_get_inset (canvas);
  TptText label = { TPT_COLOR_INK, .width = layout->label_width, .down = 0.5 };
  TptText reason = { TPT_COLOR_QUIET, .size = 0.92, .italic = TRUE, .width = layout->plot.width, .down = 0.5 };

  tpt_canvas_write (canvas, group->label, layout->label_x, middle, &label);
  if (group->reason != NULL)
    {
      tpt_canvas_write (canvas, group->reason, layout->plot.x, middle, &reason);
      return;
    }
  cairo_save (canvas->cr);
  tpt_canvas_set_series (canvas, index);
  cairo_move_to (canvas->cr, left, floor (middle) + 0.5);
  cairo_line_to (canvas->cr, left + (SAMPLE - 0.6) * canvas->em, floor (middle) + 0.5);
  cairo_stroke (canvas->cr);
  cairo_restore (canvas->cr);
  draw_row_numbers (canvas, layout, group, middle);
}

static void
say_rest (TptCanvas *canvas, const TptLives *lives, const TptLivesLayout *layout, const TptFigureRect *area)
{
  guint n = lives->groups->len - layout->n_shown;
  TptText text = { TPT_COLOR_QUIET, .size = 0.9, .down = 1 };
  g_autofree char *words = NULL;

  if (n == 0)
    return;
  words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u more group has no room here", "%u more groups have no room here", n), n);
  tpt_canvas_write (canvas, words, area->x + tpt_canvas_get_inset (canvas), area->y + area->height, &text);
}

void
tpt_lives_paint (const TptLives *lives, TptCanvas *canvas, const TptFigureRect *area)
{
  TptText head = { TPT_COLOR_QUIET, .size = 0.9, .down = 1 };
  TptLivesLayout layout;

  if (lives->groups->len == 0)
    {
      tpt_canvas_say (canvas, area, _("No unit’s life is on record yet."));
      return;
    }
  tpt_lives_lay_out (lives, canvas, area, &layout);
  draw_scale (canvas, &layout);
  draw_ages (canvas, &layout);
  /* A curve without its row would have no name. */
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < layout.n_shown; i++)
      {
        const TptLivesGroup *group = g_ptr_array_index (lives->groups, i);

        if (group->reason != NULL || group->n_ends == 0)
          continue;
        if (pass == 0)
          draw_band (canvas, &layout, group, i);
        else
          draw_curve (canvas, &layout, group, i);
      }
  if (layout.n_shown > 0)
    tpt_canvas_write (canvas, _("followed that long"), area->x + tpt_canvas_get_inset (canvas), layout.rows - 0.2 * canvas->em, &head);
  for (guint i = 0; i < layout.n_shown; i++)
    draw_row (canvas, &layout, area, g_ptr_array_index (lives->groups, i), i);
  say_rest (canvas, lives, &layout, area);
}
