#include "config.h"

#include "tpt-job-lives.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-unit-lives-private.h"
#include "tpt-words.h"

struct _TptJobLives {
  TptJob parent_instance;

  /* Input arguments */
  TptLivesBy by;

  /* In-progress data */
  GArray *lives; /* (owned) (element-type TptLife) */

  /* Results */
  GPtrArray *groups; /* (owned) */
  TptLifeTest test;  /* (owned) */
  guint n, failures;
  double unit_days;
  guint left_out[TPT_N_LIFE_WHY];
  char *sentence;       /* (owned) */
  char *left_out_words; /* (owned) */
  TptFigure *figure;    /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptJobLives, tpt_job_lives, TPT_TYPE_JOB)

static const char *const by_words[] = {
  [TPT_LIVES_BY_KIND] = "kind",
  [TPT_LIVES_BY_HOUSING] = "housing",
  [TPT_LIVES_BY_MODEL] = "model",
  [TPT_LIVES_BY_CAUSE] = "cause",
};

gboolean
tpt_lives_by_parse (const char *word, TptLivesBy *by)
{
  for (guint i = 0; i < G_N_ELEMENTS (by_words); i++)
    if (g_str_equal (by_words[i], word))
      {
        *by = (TptLivesBy) i;
        return TRUE;
      }
  return FALSE;
}

/* In a curve by cause every unit appears in each group: count them once. */
static void
count (TptJobLives *self)
{
  for (guint i = 0; i < self->lives->len; i++)
    {
      const TptLife *life = &g_array_index (self->lives, TptLife, i);

      self->failures += life->cause != NULL;
      self->unit_days += life->days;
    }
  self->n = self->lives->len;
}

static void
drop_ungrouped (TptJobLives *self)
{
  const char *column = self->by == TPT_LIVES_BY_HOUSING ? "housing" : "model";

  if (self->by == TPT_LIVES_BY_KIND || self->by == TPT_LIVES_BY_CAUSE)
    return;
  for (guint i = self->lives->len; i > 0; i--)
    if (!tpt_record_is_set (g_array_index (self->lives, TptLife, i - 1).unit, column))
      {
        g_array_remove_index (self->lives, i - 1);
        self->left_out[TPT_LIFE_NO_GROUP]++;
      }
}

static char *
make_sentence (TptJobLives *self)
{
  g_autofree char *failed = tpt_words_number (self->failures), *all = tpt_words_number (self->n);
  g_autofree char *days = tpt_words_number (round (self->unit_days));

  if (self->n == 0)
    return g_strdup (_("No unit’s life is on record yet."));
  /* Translators: how many failed, of how many, days of all of them together. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s of %2$s unit failed in %3$s days at work.",
                                       "%1$s of %2$s units failed in %3$s days at work.", self->n),
                          failed, all, days);
}

static char *
say_left_out (TptJobLives *self, TptLifeWhy why)
{
  guint n = self->left_out[why];

  switch (why)
    {
    case TPT_LIFE_NO_START:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u was neither acquired on a known day nor ever fitted",
                                           "%u were neither acquired on a known day nor ever fitted", n), n);
    case TPT_LIFE_NOT_YET:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u is not in use yet", "%u are not in use yet", n), n);
    case TPT_LIFE_BACKWARDS:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u ended before it began, by its dates",
                                           "%u ended before they began, by their dates", n), n);
    case TPT_LIFE_NO_GROUP:
      return self->by == TPT_LIVES_BY_HOUSING
               ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u has no housing on record", "%u have no housing on record", n), n)
               : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u has no model on record", "%u have no model on record", n), n);
    default:
      g_return_val_if_reached (NULL);
    }
}

static char *
make_left_out_words (TptJobLives *self)
{
  g_autoptr (GString) reasons = g_string_new (NULL);

  for (guint why = 0; why < TPT_N_LIFE_WHY; why++)
    {
      g_autofree char *words = self->left_out[why] > 0 ? say_left_out (self, why) : NULL;

      if (words != NULL)
        g_string_append_printf (reasons, "%s%s", reasons->len > 0 ? "; " : "", words);
    }
  if (reasons->len == 0)
    return g_strdup ("");
  return g_strdup_printf (_("Left out: %s."), reasons->str);
}

static const char *
get_title (TptLivesBy by)
{
  static const char *const titles[] = {
    [TPT_LIVES_BY_KIND] = N_("How long units last, by kind"),
    [TPT_LIVES_BY_HOUSING] = N_("How long units last, by housing"),
    [TPT_LIVES_BY_MODEL] = N_("How long units last, by model"),
    [TPT_LIVES_BY_CAUSE] = N_("What ends the life of units"),
  };

  return _(titles[by]);
}

static void
set_caption (TptJobLives *self)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *method = g_strdup_printf (
    "%s %s%s%s", _("Kaplan-Meier from the day a unit was acquired (else first fitted) to its first failure, loss or retirement for a "
                   "cause of failure; Greenwood 95 % limits on the log scale."),
    self->test.words, *self->left_out_words != '\0' ? " " : "", self->left_out_words);

  caption.title = get_title (self->by);
  caption.summary = self->sentence;
  caption.n = self->n;
  caption.n_of = _("units");
  caption.method = method;
  caption.units = _("share of units still at work; age in days");
  tpt_figure_set_caption (self->figure, &caption);
}

static void
make_figure (TptJobLives *self)
{
  self->figure = tpt_lives_new ();
  for (guint i = 0; i < self->groups->len; i++)
    {
      const TptLifeGroup *group = self->groups->pdata[i];
      TptLivesGroup drawn = {
        .label = group->label,
        .key = group->group,
        .reason = group->reason,
        .steps = (const TptLivesStep *) (gpointer) group->steps->data,
        .n_steps = group->steps->len,
        .ends = (const TptLivesEnd *) (gpointer) group->ends->data,
        .n_ends = group->ends->len,
      };

      tpt_lives_add_group (self->figure, &drawn);
    }
  set_caption (self);
}

gboolean
tpt_job_lives_compute (TptJobLives *self, TptStore *store, GError **error)
{
  self->lives = tpt_lives_read (store, tpt_store_get_now (store), self->left_out, error);
  if (self->lives == NULL)
    return FALSE;
  drop_ungrouped (self);
  count (self);
  self->groups = tpt_lives_group (self->lives, self->by);
  for (guint i = 0; i < self->groups->len; i++)
    tpt_lives_estimate (self->groups->pdata[i]);
  tpt_lives_compare (self->groups, self->by, &self->test);
  g_clear_pointer (&self->lives, g_array_unref);
  self->sentence = make_sentence (self);
  self->left_out_words = make_left_out_words (self);
  make_figure (self);
  return TRUE;
}

static gboolean
tpt_job_lives_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  return tpt_job_lives_compute (TPT_JOB_LIVES (job), store, error);
}

static void
tpt_job_lives_dispose (GObject *object)
{
  TptJobLives *self = TPT_JOB_LIVES (object);

  g_assert (self->lives == NULL);
  g_clear_pointer (&self->groups, g_ptr_array_unref);
  g_clear_pointer (&self->test.words, g_free);
  g_clear_pointer (&self->sentence, g_free);
  g_clear_pointer (&self->left_out_words, g_free);
  g_clear_pointer (&self->figure, tpt_figure_unref);

  G_OBJECT_CLASS (tpt_job_lives_parent_class)->dispose (object);
}

static void
tpt_job_lives_class_init (TptJobLivesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_lives_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_lives_run;
}

static void
tpt_job_lives_init (TptJobLives *self)
{
}

TptJobLives *
tpt_job_lives_new (TptLivesBy by)
{
  TptJobLives *self = g_object_new (TPT_TYPE_JOB_LIVES, NULL);

  self->by = by;
  return self;
}

GPtrArray *
tpt_job_lives_get_groups (TptJobLives *self)
{
  return self->groups;
}

const TptLifeTest *
tpt_job_lives_get_test (TptJobLives *self)
{
  return &self->test;
}

guint
tpt_job_lives_get_n (TptJobLives *self)
{
  return self->n;
}

guint
tpt_job_lives_get_failures (TptJobLives *self)
{
  return self->failures;
}

guint
tpt_job_lives_get_left_out (TptJobLives *self)
{
  guint n = 0;

  for (guint why = 0; why < TPT_N_LIFE_WHY; why++)
    n += self->left_out[why];
  return n;
}

const char *
tpt_job_lives_get_sentence (TptJobLives *self)
{
  return self->sentence;
}

const char *
tpt_job_lives_get_left_out_words (TptJobLives *self)
{
  return self->left_out_words;
}

TptFigure *
tpt_job_lives_get_figure (TptJobLives *self)
{
  return self->figure;
}
