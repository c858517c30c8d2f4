#include "config.h"

#include "tpt-lives-private.h"
#include "tpt-number.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind lives_kind;

static void
free_group (gpointer data)
{
  TptLivesGroup *group = data;

  g_free ((char *) group->label);
  g_free ((char *) group->key);
  g_free ((char *) group->reason);
  g_free ((TptLivesStep *) group->steps);
  g_free ((TptLivesEnd *) group->ends);
  g_free (group);
}

static void
free_lives (gpointer data)
{
  TptLives *lives = data;

  g_ptr_array_unref (lives->groups);
  g_free (lives);
}

TptFigure *
tpt_lives_new (void)
{
  TptLives *lives = g_new0 (TptLives, 1);

  lives->groups = g_ptr_array_new_with_free_func (free_group);
  return tpt_figure_new (&lives_kind, lives);
}

void
tpt_lives_add_group (TptFigure *figure, const TptLivesGroup *group)
{
  TptLives *lives = tpt_figure_get_data (figure, &lives_kind);
  TptLivesGroup *copy = g_memdup2 (group, sizeof *group);

  copy->label = g_strdup (group->label);
  copy->key = g_strdup (group->key);
  copy->reason = g_strdup (group->reason);
  copy->steps = g_memdup2 (group->steps, group->n_steps * sizeof *group->steps);
  copy->ends = g_memdup2 (group->ends, group->n_ends * sizeof *group->ends);
  for (guint i = 0; i < copy->n_ends; i++)
    lives->oldest = MAX (lives->oldest, copy->ends[i].days);
  g_ptr_array_add (lives->groups, copy);
}

guint
tpt_lives_count_at_risk (const TptLivesGroup *group, double days)
{
  guint n = 0;

  for (guint i = 0; i < group->n_ends; i++)
    n += group->ends[i].days >= days;
  return n;
}

double
tpt_lives_find_survival (const TptLivesGroup *group, double days)
{
  double survival = 1;

  for (guint i = 0; i < group->n_steps && group->steps[i].days <= days; i++)
    survival = group->steps[i].survival;
  return survival;
}

static guint
count_failures (const TptLivesGroup *group)
{
  guint n = 0;

  for (guint i = 0; i < group->n_ends; i++)
    n += group->ends[i].failed;
  return n;
}

static void
draw_lives (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  tpt_lives_paint (tpt_figure_get_data (figure, &lives_kind), canvas, area);
}

static double
get_lives_height (TptFigure *figure, TptCanvas *canvas, double width)
{
  return tpt_lives_get_height (tpt_figure_get_data (figure, &lives_kind), canvas);
}

static TptFigureRect
get_lives_plot (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area)
{
  TptLivesLayout layout;

  tpt_lives_lay_out (tpt_figure_get_data (figure, &lives_kind), canvas, area, &layout);
  return layout.plot;
}

static char *
describe_group (const TptLivesGroup *group)
{
  guint failed = count_failures (group);
  g_autofree char *counts =
    g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$u of %2$u unit failed", "%1$u of %2$u units failed", group->n_ends),
                     failed, group->n_ends);

  if (group->reason != NULL)
    return g_strdup_printf ("%s: %s; %s", group->label, counts, group->reason);
  return g_strdup_printf ("%s: %s", group->label, counts);
}

static char *
describe_step (const TptLivesGroup *group, const TptLivesStep *step)
{
  g_autofree char *days = tpt_words_number (round (step->days));

  if (isnan (step->low))
    /* Translators: a group, percent, days. */
    return g_strdup_printf (_("%1$s: %2$.0f %% at work after %3$s days"), group->label, 100 * step->survival, days);
  /* Translators: a group, percent, days, limits in percent. */
  return g_strdup_printf (_("%1$s: %2$.0f %% at work after %3$s days (%4$.0f to %5$.0f %%)"), group->label,
                          100 * step->survival, days, 100 * step->low, 100 * step->high);
}

static void
hit_curve (const TptLivesGroup *group, guint row, const TptLivesLayout *layout, TptHitTest *test)
{
  for (guint i = 0; group->reason == NULL && i < group->n_steps; i++)
    {
      TptFigureRect rect = tpt_lives_get_step_rect (layout, group, i);

      if (tpt_hit_test_wants (test, TPT_LAYER_MARK, &rect))
        tpt_hit_test_take (test, TPT_LAYER_MARK, &rect, TPT_HIT_CURVE, (int) row, (int) i,
                           describe_step (group, &group->steps[i]), group->key);
    }
}

static void
hit_lives (TptFigure *figure, TptCanvas *canvas, const TptFigureRect *area, TptHitTest *test)
{
  const TptLives *lives = tpt_figure_get_data (figure, &lives_kind);
  TptLivesLayout layout;

  tpt_lives_lay_out (lives, canvas, area, &layout);
  for (guint i = 0; i < lives->groups->len; i++)
    {
      const TptLivesGroup *group = g_ptr_array_index (lives->groups, i);
      TptFigureRect rect = tpt_lives_get_row_rect (&layout, area, i);

      if (i >= layout.n_shown)
        return;
      hit_curve (group, i, &layout, test);
      if (tpt_hit_test_wants (test, TPT_LAYER_ROW, &rect))
        tpt_hit_test_take (test, TPT_LAYER_ROW, &rect, TPT_HIT_ROW, (int) i, -1, describe_group (group), group->key);
    }
}

/* Without a curve the numbers of its steps are not known either. */
static void
add_age (TptFigureTable *table, const TptLivesGroup *group, double days, guint failed, guint censored)
{
  const TptLivesStep *step = NULL;

  for (guint i = 0; group->reason == NULL && i < group->n_steps && group->steps[i].days <= days; i++)
    step = &group->steps[i];
  tpt_figure_table_add (table, g_strdup (group->label), tpt_number_format_real (days),
                        g_strdup_printf ("%u", tpt_lives_count_at_risk (group, days)), g_strdup_printf ("%u", failed),
                        g_strdup_printf ("%u", censored),
                        step != NULL ? tpt_number_format_real (step->survival)
                                     : g_strdup (group->reason == NULL ? "1" : ""),
                        tpt_number_format_real (step != NULL ? step->low : NAN),
                        tpt_number_format_real (step != NULL ? step->high : NAN),
                        g_strdup (group->reason != NULL ? group->reason : ""), NULL);
}

static void
add_lives_rows (TptFigure *figure, TptFigureTable *table)
{
  const TptLives *lives = tpt_figure_get_data (figure, &lives_kind);

  for (guint g = 0; g < lives->groups->len; g++)
    {
      const TptLivesGroup *group = g_ptr_array_index (lives->groups, g);

      for (guint i = 0; i < group->n_ends;)
        {
          double days = group->ends[i].days;
          guint failed = 0, all = 0;

          for (; i < group->n_ends && group->ends[i].days == days; i++, all++)
            failed += group->ends[i].failed;
          add_age (table, group, days, failed, all - failed);
        }
    }
}

/* The last step says most. */
static char *
describe_lives (TptFigure *figure)
{
  const TptLives *lives = tpt_figure_get_data (figure, &lives_kind);
  GString *text = g_string_new (_("How long units last, by the age at which they failed."));

  for (guint i = 0; i < lives->groups->len; i++)
    {
      const TptLivesGroup *group = g_ptr_array_index (lives->groups, i);
      g_autofree char *words = describe_group (group);

      g_string_append_printf (text, " %s.", words);
      if (group->reason == NULL && group->n_steps > 0)
        {
          g_autofree char *last = describe_step (group, &group->steps[group->n_steps - 1]);

          g_string_append_printf (text, " %s.", last);
        }
    }
  return g_string_free (text, FALSE);
}

static char *
explain_lives (TptFigure *figure)
{
  return g_strdup (_("Steps: share still at work; bands: its 95 % limits; ticks: last seen at work; below: how many were followed that long"));
}

static const char *const lives_columns[] = {
  "group", "days", "at_risk", "failures", "censored", "survival", "low", "high", "reason", NULL
};

static const TptFigureKind lives_kind = {
  .name = "lives",
  .columns = lives_columns,
  .draw = draw_lives,
  .height = get_lives_height,
  .plot = get_lives_plot,
  .hit = hit_lives,
  .add_rows = add_lives_rows,
  .describe = describe_lives,
  .explain = explain_lives,
  .free_data = free_lives,
};
