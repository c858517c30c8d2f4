#include "config.h"

#include "tpt-job-decide.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-frames.h"
#include "tpt-job-decide-private.h"
#include "tpt-names-private.h"
#include "tpt-opinions.h"
#include "tpt-records.h"

struct _TptJobDecide {
  TptJob parent_instance;

  /* Input arguments */
  GArray *triggers;  /* (owned) (element-type gint64) */
  gboolean withdraw; /* takes back what was said */
  gboolean besides;
  TptOpinion said;   /* (owned strings) */

  /* Results */
  gint64 changed;
  gint64 beside;
};

G_DEFINE_FINAL_TYPE (TptJobDecide, tpt_job_decide, TPT_TYPE_JOB)

/* The same rules as for a row of a table. */
static gboolean
check_decision (TptJobDecide *self, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_OBSERVATIONS);
  const char *cells[][2] = {
    { "type", self->said.type },
    { "scientific_name", self->said.species },
    { "sex", self->said.sex },
    { "life_stage", self->said.life_stage },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    if (!tpt_record_set_from_string (record, cells[i][0], cells[i][1], NULL, error))
      return FALSE;
  tpt_record_set_text (record, "observation", "-");
  tpt_record_set_text (record, "deployment", "-");
  tpt_record_set_instant (record, "start", 0);
  if (self->said.count < 0 || self->said.certainty < 0 || self->said.certainty > 1)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA,
                           self->said.count < 0 ? _("A count cannot be less than nothing")
                                                : _("How certain it is, is a number from 0 to 1"));
      return FALSE;
    }
  return tpt_record_check (record, NULL, error);
}

/* By the scientific name, or by a common one that is of one species only. */
static gboolean
find_species (TptJobDecide *self, TptStore *store, GError **error)
{
  const char *const names[] = { self->said.species, NULL };
  g_autoptr (TptRecord) record = NULL;
  g_autoptr (GArray) keys = NULL;

  if (self->said.species == NULL)
    return TRUE;
  record = tpt_store_find (store, TPT_TABLE_SPECIES, self->said.species, NULL);
  if (record != NULL)
    {
      self->said.species_id = tpt_record_get_id (record);
      return TRUE;
    }
  keys = tpt_store_find_species (store, names, error);
  if (keys == NULL)
    return FALSE;
  self->said.species_id = g_array_index (keys, gint64, 0);
  if (keys->len == 1)
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("Several species are called “%s”: give the scientific name"), self->said.species);
  return FALSE;
}

static gboolean
is_said (const TptOpinion *one)
{
  return !g_str_equal (one->type, "unclassified");
}

/* A row in which the same person said something, or nobody anything. */
static gboolean
is_own (TptJobDecide *self, const TptOpinion *one)
{
  return is_said (one) ? g_strcmp0 (one->by, self->said.by) == 0 : one->opinion == 1;
}

/* The number of what is to be said: the person's own where there is one, 1 where
 * nobody else's word counts, else the next. Who speaks again after a
 * difference was settled opens it anew. */
static int
choose_number (TptJobDecide *self, GArray *opinions)
{
  int own = 0, most = 0;

  for (guint i = 0; i < opinions->len; i++)
    {
      const TptOpinion *one = &g_array_index (opinions, TptOpinion, i);

      if (!is_said (one) || one->opinion >= TPT_OPINION_SETTLED)
        continue;
      most = MAX (most, one->opinion);
      if (is_own (self, one) && own == 0)
        own = one->opinion;
    }
  return own != 0 ? own : most + 1;
}

static gboolean
is_same_animal (TptJobDecide *self, const TptOpinion *one)
{
  return g_str_equal (one->type, self->said.type) && one->species_id == self->said.species_id;
}

/* Which of the person's rows is written over: beside others only one that says
 * the same or nothing. "Blank" cannot stand beside something seen. */
static gboolean
may_replace (TptJobDecide *self, const TptOpinion *one)
{
  if (!self->besides || !is_said (one) || is_same_animal (self, one))
    return TRUE;
  return g_str_equal (one->type, "blank") || g_str_equal (self->said.type, "blank");
}

static gboolean
equal_reals (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static gboolean
says_so_already (const TptOpinion *a, const TptOpinion *b)
{
  return g_strcmp0 (a->type, b->type) == 0 && a->species_id == b->species_id && a->count == b->count &&
         g_strcmp0 (a->sex, b->sex) == 0 && g_strcmp0 (a->life_stage, b->life_stage) == 0 &&
         g_strcmp0 (a->behaviour, b->behaviour) == 0 && g_strcmp0 (a->individual, b->individual) == 0 &&
         g_strcmp0 (a->notes, b->notes) == 0 && equal_reals (a->certainty, b->certainty) && g_strcmp0 (a->by, b->by) == 0 &&
         a->opinion == b->opinion;
}

/* Writes over @kept, the row that stays of those that are replaced, or adds one.
 * What somebody noted where nothing was said yet is kept. */
static gboolean
put (TptJobDecide *self, TptStore *store, const TptTriggerFacts *trigger, int number, const TptOpinion *kept, gboolean *changed,
     GError **error)
{
  TptOpinion said = self->said;

  said.id = kept != NULL ? kept->id : 0;
  said.at = tpt_store_get_now (store);
  said.opinion = number;
  if (kept != NULL && !is_said (kept) && said.notes == NULL)
    said.notes = kept->notes;
  if (kept != NULL && says_so_already (kept, &said))
    return TRUE;
  *changed = TRUE;
  return tpt_store_put_opinion (store, trigger, &said, error);
}

static gboolean
drop (TptStore *store, const TptOpinion *one, gboolean *changed, GError **error)
{
  *changed = TRUE;
  return tpt_store_drop_opinion (store, one->id, error);
}

/* The row to write over: the one that says the same before any other. */
static const TptOpinion *
choose_kept (TptJobDecide *self, GArray *opinions)
{
  const TptOpinion *kept = NULL;

  for (guint i = 0; i < opinions->len; i++)
    {
      const TptOpinion *one = &g_array_index (opinions, TptOpinion, i);

      if (!is_own (self, one) || !may_replace (self, one))
        continue;
      if (kept == NULL || (is_same_animal (self, one) && !is_same_animal (self, kept)))
        kept = one;
    }
  return kept;
}

static gboolean
say (TptJobDecide *self, TptStore *store, const TptTriggerFacts *trigger, GArray *opinions, gboolean *changed, GError **error)
{
  int number = choose_number (self, opinions);
  const TptOpinion *kept = choose_kept (self, opinions);

  if (kept != NULL && !is_said (kept) && number > 1)
    kept = NULL; /* that row stands where somebody else speaks */
  for (guint i = 0; i < opinions->len; i++)
    {
      const TptOpinion *one = &g_array_index (opinions, TptOpinion, i);

      if (one == kept || !is_own (self, one) || !may_replace (self, one) || (!is_said (one) && number > 1))
        continue;
      if (!drop (store, one, changed, error))
        return FALSE;
    }
  if (!put (self, store, trigger, number, kept, changed, error))
    return FALSE;
  self->beside += *changed && number > 1;
  return TRUE;
}

/* When the word that counted is taken back, the others move up; a settled one
 * only when nothing else is left. */
static int
choose_higher (GArray *opinions, int number, int gone)
{
  gboolean open = FALSE;

  if (number < TPT_OPINION_SETTLED)
    return number > gone ? number - 1 : number;
  for (guint i = 0; i < opinions->len; i++)
    {
      int other = g_array_index (opinions, TptOpinion, i).opinion;

      open |= other != gone && other < number;
    }
  return gone == 1 && !open ? 1 : number;
}

static gboolean
move_up (TptStore *store, GArray *opinions, int gone, GError **error)
{
  for (guint i = 0; i < opinions->len; i++)
    {
      const TptOpinion *one = &g_array_index (opinions, TptOpinion, i);
      int number = choose_higher (opinions, one->opinion, gone);

      if (number != one->opinion && !tpt_store_number_opinion (store, one->id, number, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
take_back (TptJobDecide *self, TptStore *store, GArray *opinions, gboolean *changed, GError **error)
{
  int gone = 0;
  gboolean shared = FALSE; /* somebody else speaks at the same number */

  for (guint i = 0; i < opinions->len; i++)
    {
      const TptOpinion *one = &g_array_index (opinions, TptOpinion, i);

      if (!is_said (one) || !is_own (self, one))
        continue;
      gone = one->opinion;
      if (!drop (store, one, changed, error))
        return FALSE;
    }
  for (guint i = 0; i < opinions->len; i++)
    {
      const TptOpinion *one = &g_array_index (opinions, TptOpinion, i);

      shared |= one->opinion == gone && is_said (one) && !is_own (self, one);
    }
  return gone == 0 || shared || move_up (store, opinions, gone, error);
}

static gboolean
decide_one (gpointer data, TptStore *store, gint64 trigger_id, gboolean *changed, GError **error)
{
  TptJobDecide *self = data;
  TptTriggerFacts trigger;
  g_autoptr (GArray) opinions = NULL;
  GError *failure = NULL;

  if (!tpt_store_read_trigger (store, trigger_id, &trigger, &failure))
    {
      if (failure != NULL)
        g_propagate_error (error, failure);
      return failure == NULL;
    }
  opinions = tpt_store_read_opinions (store, trigger_id, error);
  if (opinions == NULL)
    return FALSE;
  return self->withdraw ? take_back (self, store, opinions, changed, error)
                        : say (self, store, &trigger, opinions, changed, error);
}

/* (transfer full): for the history. */
static char *
name_action (TptJobDecide *self, TptStore *store)
{
  g_autoptr (TptNamer) namer = tpt_namer_new (store, NULL);
  guint n = self->triggers->len;
  const char *common = self->said.species_id != 0 ? tpt_namer_get (namer, self->said.species_id, NULL) : NULL;
  g_autofree char *type = self->said.type != NULL ? tpt_choice_inline (self->said.type) : NULL;

  if (self->withdraw)
    return g_strdup_printf (ngettext ("Take back what was said of %u trigger", "Take back what was said of %u triggers", n), n);
  return g_strdup_printf (ngettext ("Name %u trigger: %s", "Name %u triggers: %s", n), n,
                          common != NULL ? common : self->said.species != NULL ? self->said.species : type);
}

static gboolean
tpt_job_decide_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobDecide *self = TPT_JOB_DECIDE (job);
  g_autofree char *what = NULL;

  if (!self->withdraw && (!check_decision (self, error) || !find_species (self, store, error)))
    return FALSE;
  what = name_action (self, store);
  return tpt_decide_each (store, what, self->triggers, decide_one, self, &self->changed, cancellable, error);
}

static void
tpt_job_decide_finalize (GObject *object)
{
  TptJobDecide *self = TPT_JOB_DECIDE (object);
  char *texts[] = { self->said.type, self->said.species, self->said.sex, self->said.life_stage,
                    self->said.behaviour, self->said.individual, self->said.notes, self->said.by };

  g_array_unref (self->triggers);
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (texts[i]);

  G_OBJECT_CLASS (tpt_job_decide_parent_class)->finalize (object);
}

static void
tpt_job_decide_class_init (TptJobDecideClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_job_decide_finalize;
  TPT_JOB_CLASS (klass)->run = tpt_job_decide_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
}

static void
tpt_job_decide_init (TptJobDecide *self)
{
}

/* An entry left empty is not said. */
static char *
copy_text (const char *text)
{
  return text != NULL && *text != '\0' ? g_strdup (text) : NULL;
}

TptJobDecide *
tpt_job_decide_new (const gint64 *trigger_ids, guint n, const TptDecision *decision)
{
  TptJobDecide *self = g_object_new (TPT_TYPE_JOB_DECIDE, NULL);

  self->triggers = tpt_decide_keys (trigger_ids, n);
  self->withdraw = decision->type == NULL;
  self->besides = decision->besides;
  self->said = (TptOpinion){
    .type = copy_text (decision->type),
    .species = copy_text (decision->species),
    .count = decision->count,
    .sex = copy_text (decision->sex),
    .life_stage = copy_text (decision->life_stage),
    .behaviour = copy_text (decision->behaviour),
    .individual = copy_text (decision->individual),
    .notes = copy_text (decision->notes),
    .certainty = decision->certainty,
    .by = copy_text (decision->by),
  };
  return self;
}

gint64
tpt_job_decide_get_changed (TptJobDecide *self)
{
  return self->changed;
}

gint64
tpt_job_decide_get_beside (TptJobDecide *self)
{
  return self->beside;
}
