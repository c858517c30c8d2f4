#include "config.h"

#include "tpt-due-private.h"
#include "tpt-number.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind due_kind;

static void
free_row (gpointer data)
{
  TptDueRow *row = data;

  g_free ((char *) row->label);
  g_free ((char *) row->key);
  g_free ((char *) row->limiting);
  g_free (row);
}

static void
free_due (gpointer data)
{
  TptDue *due = data;

  g_ptr_array_unref (due->rows);
  tpt_zone_unref (due->zone);
  g_free (due);
}

TptFigure *
tpt_due_new (TptRange range,
             TptZone *zone,
             TptInstant next_round)
{
  TptDue *due;

  g_return_val_if_fail (range.from != TPT_NO_INSTANT && range.to > range.from, NULL);

  due = g_new0 (TptDue, 1);
  due->range = range;
  due->zone = tpt_zone_ref (zone);
  due->next_round = next_round;
  due->rows = g_ptr_array_new_with_free_func (free_row);
  return tpt_figure_new (&due_kind, due);
}

void
tpt_due_add_row (TptFigure *figure,
                 const TptDueRow *row)
{
  TptDue *due = tpt_figure_get_data (figure, &due_kind);
  TptDueRow *copy = g_memdup2 (row, sizeof *row);

  copy->label = g_strdup (row->label);
  copy->key = g_strdup (row->key);
  copy->limiting = g_strdup (row->limiting);
  g_ptr_array_add (due->rows, copy);
}

static void
draw_due (TptFigure *figure,
          TptCanvas *canvas,
          const TptFigureRect *area)
{
  tpt_due_paint (tpt_figure_get_data (figure, &due_kind), canvas, area);
}

static double
get_due_height (TptFigure *figure,
                TptCanvas *canvas,
                double width)
{
  return tpt_due_get_height (tpt_figure_get_data (figure, &due_kind), canvas);
}

static TptFigureRect
get_due_plot (TptFigure *figure,
              TptCanvas *canvas,
              const TptFigureRect *area)
{
  TptDueLayout layout;

  tpt_due_lay_out (tpt_figure_get_data (figure, &due_kind), canvas, area, &layout);
  return layout.plot;
}

static TptTimeAxis
get_due_axis (TptFigure *figure,
              TptCanvas *canvas,
              const TptFigureRect *area)
{
  TptDueLayout layout;

  tpt_due_lay_out (tpt_figure_get_data (figure, &due_kind), canvas, area, &layout);
  return layout.axis;
}

static char *
describe_interval (const TptDue *due,
                   const TptInterval *interval)
{
  g_autofree char *early = NULL;
  g_autofree char *late = NULL;

  if (interval->p10 == TPT_NO_INSTANT)
    return g_strdup (_("no forecast"));
  early = tpt_words_date (interval->p10, due->zone);
  if (interval->p90 == TPT_NO_INSTANT)
    return g_strdup_printf (_("lasts until %s at least, with a chance of 90 %%"), early);
  late = tpt_words_date (interval->p90, due->zone);
  return g_strdup_printf (_("gives out between %1$s and %2$s, with a chance of 80 %%"), early, late);
}

static char *
describe_row (const TptDue *due,
              const TptDueRow *row)
{
  g_autofree char *symbol = tpt_symbol_describe (&row->symbol);
  g_autofree char *interval = describe_interval (due, &row->interval);
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "%s: %s", row->label, symbol);
  if (row->limiting != NULL)
    g_string_append_printf (text, "; %s", row->limiting);
  g_string_append_printf (text, "; %s", interval);
  if (!isnan (row->lost_nights))
    {
      g_string_append (text, "; ");
      g_string_append_printf (text, _("%.1f nights lost until the round"), row->lost_nights);
    }

  return g_string_free (text, FALSE);
}

static char *
describe_round (const TptDue *due)
{
  g_autofree char *date = tpt_words_date (due->next_round, due->zone);

  return g_strdup_printf (_("Next round: %s"), date);
}

static void
hit_due (TptFigure *figure,
         TptCanvas *canvas,
         const TptFigureRect *area,
         TptHitTest *test)
{
  const TptDue *due = tpt_figure_get_data (figure, &due_kind);
  TptFigureRect round_rect;
  TptDueLayout layout;

  tpt_due_lay_out (due, canvas, area, &layout);
  for (guint i = 0; i < layout.n_shown; i++)
    {
      const TptDueRow *row = g_ptr_array_index (due->rows, i);
      TptFigureRect rect = tpt_due_get_row_rect (&layout, area, i);

      if (tpt_hit_test_wants (test, TPT_LAYER_ROW, &rect))
        tpt_hit_test_take (test, TPT_LAYER_ROW, &rect, TPT_HIT_ROW, i, -1, describe_row (due, row), row->key);
    }

  round_rect = tpt_due_get_round_rect (due, &layout, canvas);
  if (round_rect.width > 0 && tpt_hit_test_wants (test, TPT_LAYER_MARK, &round_rect))
    tpt_hit_test_take (test, TPT_LAYER_MARK, &round_rect, TPT_HIT_ROUND, -1, -1, describe_round (due), NULL);
}

static const char *
name_state (TptSymbolState state)
{
  static const char *const names[] = { "fine", "soon", "now", "down", "unknown" };

  return names[state];
}

static char *
format_known (TptInstant instant,
              TptZone *zone)
{
  return instant != TPT_NO_INSTANT ? tpt_instant_format (instant, zone) : g_strdup ("");
}

static void
add_due_rows (TptFigure *figure,
              TptFigureTable *table)
{
  const TptDue *due = tpt_figure_get_data (figure, &due_kind);

  for (guint i = 0; i < due->rows->len; i++)
    {
      const TptDueRow *row = g_ptr_array_index (due->rows, i);

      tpt_figure_table_add (table, g_strdup (row->label), g_strdup (name_state (row->symbol.state)),
                            tpt_number_format_real (row->symbol.energy), tpt_number_format_real (row->symbol.card),
                            g_strdup (row->limiting != NULL ? row->limiting : ""),
                            format_known (row->interval.p10, due->zone), format_known (row->interval.p50, due->zone),
                            format_known (row->interval.p90, due->zone), tpt_number_format_real (row->lost_nights),
                            format_known (due->next_round, due->zone), NULL);
    }
}

static char *
describe_due (TptFigure *figure)
{
  const TptDue *due = tpt_figure_get_data (figure, &due_kind);
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "What is due at %u station.", "What is due at %u stations.",
                                             due->rows->len), due->rows->len);
  if (due->next_round != TPT_NO_INSTANT)
    {
      g_autofree char *words = describe_round (due);

      g_string_append_printf (text, " %s.", words);
    }
  for (guint i = 0; i < due->rows->len; i++)
    {
      g_autofree char *words = describe_row (due, g_ptr_array_index (due->rows, i));

      g_string_append_printf (text, " %s.", words);
    }

  return g_string_free (text, FALSE);
}

static char *
explain_due (TptFigure *figure)
{
  return g_strdup (_("Bars: out with a chance of 10 to 90 %, rings: of 50 %; half rings: left energy, right card"));
}

static const char *const due_columns[] = {
  "station", "state", "energy", "card", "limiting", "out_p10", "out_p50", "out_p90", "lost_nights", "next_round", NULL
};

static const TptFigureKind due_kind = {
  .name = "due",
  .columns = due_columns,
  .draw = draw_due,
  .height = get_due_height,
  .plot = get_due_plot,
  .axis = get_due_axis,
  .hit = hit_due,
  .add_rows = add_due_rows,
  .describe = describe_due,
  .explain = explain_due,
  .free_data = free_due,
};
