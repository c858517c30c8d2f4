#include "config.h"

#include "tpt-due-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* In em. */
#define ROW_WANTED 3.3
#define ROW_TWO_LINES 2.7
#define ROW_LEAST 1.5
#define LOST_WIDTH 6.4
#define LOST_FROM 38.0 /* total width that has room for lost nights */
#define FOOT 2.4
#define REST 1.3
#define LABEL_GAP 0.8

/* What limits a station stands below its name, or behind it on the same line. */
static double
get_label_width (const TptDue *due,
                 TptCanvas *canvas,
                 gboolean two_lines)
{
  const TptText label = { TPT_COLOR_INK, .bold = TRUE };
  const TptText limiting = { TPT_COLOR_QUIET, .size = 0.9 };
  double widest = 0;

  for (guint i = 0; i < due->rows->len; i++)
    {
      const TptDueRow *row = g_ptr_array_index (due->rows, i);
      double width, height, below = 0;

      tpt_canvas_measure (canvas, row->label, &label, &width, &height);
      if (row->limiting != NULL)
        tpt_canvas_measure (canvas, row->limiting, &limiting, &below, &height);
      widest = MAX (widest, two_lines || below == 0 ? MAX (width, below) : width + LABEL_GAP * canvas->em + below);
    }

  return ceil (widest) + 1;
}

void
tpt_due_lay_out (const TptDue *due,
         TptCanvas *canvas,
         const TptFigureRect *area,
         TptDueLayout *layout)
{
  double em = canvas->em;
  double axis_height = tpt_time_axis_height (canvas->style) + 0.3 * em;
  double room = area->height - axis_height - FOOT * em;
  double wanted = MIN (room / MAX (due->rows->len, 1), ROW_WANTED * em);
  double left, right;

  layout->row_height = floor (MAX (wanted, ROW_LEAST * em));
  if (layout->row_height * due->rows->len > room + 1)
    room -= REST * em;
  layout->n_shown = (guint) CLAMP ((room + 1) / layout->row_height, 0, due->rows->len);
  layout->two_lines = layout->row_height >= ROW_TWO_LINES * em;
  layout->symbol = MIN (2.2 * em, layout->row_height - 3);
  layout->lost = area->width >= LOST_FROM * em;
  layout->symbol_x = area->x + tpt_canvas_get_inset (canvas) + layout->symbol / 2;
  layout->label_x = layout->symbol_x + layout->symbol / 2 + 0.7 * em;
  layout->label_width = MIN (get_label_width (due, canvas, layout->two_lines), floor (0.34 * area->width));

  left = floor (layout->label_x + layout->label_width + 1.6 * em);
  right = floor (area->x + area->width - (layout->lost ? LOST_WIDTH + 1 : 1.4) * em);
  layout->plot = (TptFigureRect) { left, floor (area->y + axis_height), MAX (right - left, 1),
                                   layout->row_height * layout->n_shown };
  layout->axis = (TptTimeAxis) { due->range, left, left + layout->plot.width, due->zone };
}

TptFigureRect
tpt_due_get_row_rect (const TptDueLayout *layout,
              const TptFigureRect *area,
              guint row)
{
  return (TptFigureRect) { area->x, layout->plot.y + row * layout->row_height, area->width, layout->row_height };
}

static void
write_behind (TptCanvas *canvas,
              const TptDueLayout *layout,
              const TptDueRow *row,
              double middle)
{
  TptText label = { TPT_COLOR_INK, .bold = TRUE };
  TptText limiting = { TPT_COLOR_QUIET, .size = 0.9, .down = 0.5 };
  double width, height;

  tpt_canvas_measure (canvas, row->label, &label, &width, &height);
  width += LABEL_GAP * canvas->em;
  limiting.width = layout->label_width - width;
  if (limiting.width >= 5 * canvas->em)
    tpt_canvas_write (canvas, row->limiting, layout->label_x + width, middle, &limiting);
}

static void
write_row_words (TptCanvas *canvas,
                 const TptDueLayout *layout,
                 const TptDueRow *row,
                 double middle)
{
  gboolean both = layout->two_lines && row->limiting != NULL;
  TptText label = { TPT_COLOR_INK, .bold = TRUE, .width = layout->label_width, .down = both ? 1 : 0.5 };
  TptText limiting = { TPT_COLOR_QUIET, .size = 0.9, .width = layout->label_width };

  tpt_canvas_write (canvas, row->label, layout->label_x, middle + (both ? 0.08 * canvas->em : 0), &label);
  if (both)
    tpt_canvas_write (canvas, row->limiting, layout->label_x, middle + 0.08 * canvas->em, &limiting);
  else if (row->limiting != NULL)
    write_behind (canvas, layout, row, middle);
}

static void
write_lost (TptCanvas *canvas,
            const TptDueRow *row,
            double right,
            double middle)
{
  TptText text = { TPT_COLOR_QUIET, .size = 0.92, .across = 1, .down = 0.5 };
  g_autofree char *number = NULL;

  if (isnan (row->lost_nights))
    return;
  number = row->lost_nights < 0.05 ? g_strdup ("0") : g_strdup_printf ("%.1f", row->lost_nights);
  text.role = row->lost_nights >= 0.05 ? TPT_COLOR_INK : TPT_COLOR_QUIET;
  tpt_canvas_write (canvas, number, right - tpt_canvas_get_inset (canvas), middle, &text);
}

static void
draw_row (const TptDue *due,
          TptCanvas *canvas,
          const TptDueLayout *layout,
          const TptFigureRect *area,
          guint index)
{
  const TptDueRow *row = g_ptr_array_index (due->rows, index);
  TptFigureRect rect = tpt_due_get_row_rect (layout, area, index);
  double middle = rect.y + rect.height / 2;
  double line = floor (rect.y + rect.height) - 0.5;

  if (canvas->style->chosen_row == (int) index)
    {
      tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 0.1);
      cairo_rectangle (canvas->cr, rect.x, rect.y, rect.width, rect.height - 1);
      cairo_fill (canvas->cr);
    }
  tpt_canvas_set (canvas, TPT_COLOR_FAINT, 1);
  tpt_canvas_rule (canvas, area->x, line, area->x + area->width, line, 1);
  tpt_symbol_draw (canvas->cr, &row->symbol, layout->symbol_x, middle - 0.5, layout->symbol,
                   canvas->style->palette);
  write_row_words (canvas, layout, row, middle);
  if (layout->lost)
    write_lost (canvas, row, area->x + area->width, middle);
}

double
tpt_due_get_height (const TptDue *due,
                    TptCanvas *canvas)
{
  return MAX (due->rows->len, 3) * ceil (ROW_WANTED * canvas->em) + tpt_time_axis_height (canvas->style) +
    (FOOT + 0.3) * canvas->em;
}

/* Of no width when the round lies outside the axis. */
TptFigureRect
tpt_due_get_round_rect (const TptDue *due,
                        const TptDueLayout *layout,
                        const TptCanvas *canvas)
{
  if (due->next_round < due->range.from || due->next_round > due->range.to)
    return (TptFigureRect) { 0 };

  return (TptFigureRect) { floor (tpt_time_axis_position (&layout->axis, due->next_round)) - 1, layout->plot.y, 2,
                           layout->plot.height + 2 * canvas->em };
}

static char *
make_round_label (const TptDue *due)
{
  int year, month, day;

  tpt_civil_from_days (tpt_zone_local_day (due->zone, due->next_round), &year, &month, &day);
  /* Translators: the next round, day and short month. */
  return g_strdup_printf (_("round %1$d %2$s"), day, tpt_words_month_short (month));
}

static void
draw_round (const TptDue *due,
            TptCanvas *canvas,
            const TptDueLayout *layout)
{
  g_autofree char *label = NULL;

  if (due->next_round == TPT_NO_INSTANT)
    return;
  label = make_round_label (due);
  tpt_round_line_draw (canvas->cr, &layout->axis, due->next_round, layout->plot.y,
                       layout->plot.y + layout->plot.height + 2 * canvas->em, label, canvas->style);
}

void
tpt_due_paint (const TptDue *due,
               TptCanvas *canvas,
               const TptFigureRect *area)
{
  TptText head = { TPT_COLOR_QUIET, .size = 0.85, .across = 1, .down = 1 };
  TptDueLayout layout;

  if (due->rows->len == 0)
    {
      tpt_canvas_say (canvas, area, _("No station is set out, so nothing is due."));
      return;
    }

  tpt_due_lay_out (due, canvas, area, &layout);
  for (guint i = 0; i < layout.n_shown; i++)
    draw_row (due, canvas, &layout, area, i);
  tpt_time_axis_draw_labels (&layout.axis, canvas->cr, area->y, canvas->style);
  tpt_time_axis_draw_grid (&layout.axis, canvas->cr, layout.plot.y, layout.plot.y + layout.plot.height, canvas->style);
  if (layout.lost)
    tpt_canvas_write (canvas, _("nights lost"), area->x + area->width - tpt_canvas_get_inset (canvas), layout.plot.y - 0.3 * canvas->em, &head);
  draw_round (due, canvas, &layout);
  for (guint i = 0; i < layout.n_shown; i++)
    {
      const TptDueRow *row = g_ptr_array_index (due->rows, i);

      tpt_interval_bar_draw (canvas->cr, &layout.axis, &row->interval, layout.plot.y + (i + 0.5) * layout.row_height,
                             0.36 * canvas->em, canvas->style->palette);
    }
  tpt_canvas_say_rest (canvas, due->rows->len - layout.n_shown, layout.symbol_x - layout.symbol / 2, area->y + area->height);
}
