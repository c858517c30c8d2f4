/* What was seen of a unit, as looks at its charge; and what they teach. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-due-facts-private.h"
#include "tpt-due-power-private.h"
#include "tpt-share-private.h"

/* A meter's percent is good to about seven points. Common practice, no source. */
#define PERCENT_SD 0.07
/* A unit moved within a day keeps its cells; from the shelf it comes with fresh
 * ones. */
#define SAME_CELLS TPT_DAY
/* Sets of cells before the present one that teach. */
#define MOST_SETS 6
/* What a pace that nothing is known of may be off by: a factor of three. */
#define PACE_LOG_SD 1.1
/* A pace known no better than this says nothing. */
#define VAGUE_LOG_SD 0.8

/* One unit's life being followed through its fittings. */
typedef struct {
  const TptDueFacts *facts;
  TptRecord *unit;
  TptDueLife *life;
  GArray *past; /* (element-type SciLook): at sets of cells before */
  int set;
  TptDuePower power;
  const TptDueDeployment *deployment;
  TptInstant reached;
  double expected; /* use of the present cells until then */
  double variance; /* of that, absolute: triggers nobody counted */
} Follow;

static void
advance (Follow *self, TptInstant to)
{
  double rel, triggers, used;

  if (to <= self->reached)
    return;
  triggers = tpt_due_count_triggers (self->facts, self->deployment, self->reached, to, &rel);
  used = self->power.mas_per_trigger * triggers / 3600 / self->power.full_mah;
  self->expected += used + self->power.sleep_ma * 24 * (double) (to - self->reached) / TPT_DAY / self->power.full_mah;
  self->variance += pow (rel * used, 2);
  self->reached = to;
}

static void
add_look (Follow *self, SciLookKind kind, double share, double sd)
{
  SciLook look = {
    .kind = kind,
    .cells = self->set,
    .expected = self->expected,
    .expected_rel = self->expected > 0 ? sqrt (self->variance) / self->expected : 0,
    .share = share,
    .share_sd = sd,
  };

  g_array_append_val (self->life->looks, look);
}

static void
renew (Follow *self)
{
  g_array_append_vals (self->past, self->life->looks->data, self->life->looks->len);
  g_array_set_size (self->life->looks, 0);
  self->life->found_dead = FALSE;
  self->set++;
  self->expected = 0;
  self->variance = 0;
}

/* Its last frame is the last proof that a rig found dead was alive. */
static void
prove_alive (Follow *self, TptInstant before)
{
  const TptDueDeployment *deployment = self->deployment;
  TptInstant last = TPT_NO_INSTANT;

  for (guint i = deployment->n_triggers; i > 0 && last == TPT_NO_INSTANT; i--)
    {
      TptInstant at = g_array_index (self->facts->triggers, TptTriggerRow, deployment->first_trigger + i - 1).at;

      if (at <= before)
        last = at;
    }
  if (last == TPT_NO_INSTANT || last <= self->reached)
    return;
  advance (self, last);
  add_look (self, SCI_LOOK_ALIVE, NAN, NAN);
}

static void
take_level (Follow *self, const TptReadingRow *reading)
{
  double series = (double) tpt_record_get_integer (self->unit, "cells_series", 1);
  SciFraction share = { NAN, NAN };

  if (!isnan (reading->percent))
    share = (SciFraction){ reading->percent / 100, PERCENT_SD };
  else if (!isnan (reading->volts))
    share = sci_cells_fraction (tpt_due_chemistry (self->unit), reading->volts / series);
  if (!isnan (share.fraction))
    add_look (self, SCI_LOOK_SHARE, share.fraction, share.sd);
  else
    add_look (self, SCI_LOOK_ALIVE, NAN, NAN);
}

static void
take_reading (Follow *self, const TptReadingRow *reading, const TptVisitRow *visit)
{
  gboolean dead = g_str_equal (reading->state, "dead");

  if (dead)
    prove_alive (self, reading->at);
  advance (self, reading->at);
  if (dead)
    {
      add_look (self, SCI_LOOK_OUT, NAN, NAN);
      self->life->found_dead = TRUE;
    }
  else if (!isnan (reading->percent) || !isnan (reading->volts) || g_str_equal (reading->state, "working") ||
           g_str_equal (visit->found, "working"))
    take_level (self, reading);
  if (g_str_equal (reading->action, "swapped") || g_str_equal (reading->action, "charged"))
    renew (self);
  else if (g_str_equal (reading->action, "repaired"))
    self->life->found_dead = FALSE;
}

static const TptReadingRow *
find_reading (const TptReadingRow *readings, guint n, gint64 visit_id)
{
  for (guint i = 0; i < n; i++)
    if (readings[i].visit_id == visit_id)
      return &readings[i];
  return NULL;
}

static void
follow_visits (Follow *self, const TptFittingRow *fitting, const TptReadingRow *readings, guint n_readings)
{
  guint n;
  const TptVisitRow *visits = tpt_due_facts_find_visits (self->facts, self->deployment->station_id, &n);

  for (guint i = 0; i < n; i++)
    {
      const TptReadingRow *reading;

      if (visits[i].at <= fitting->from || visits[i].at > self->deployment->end ||
          (fitting->to != TPT_NO_INSTANT && visits[i].at > fitting->to) ||
          visits[i].at < self->facts->on - TPT_DUE_MEMORY)
        continue;
      reading = find_reading (readings, n_readings, visits[i].id);
      if (reading != NULL)
        take_reading (self, reading, &visits[i]);
      else if (g_str_equal (visits[i].found, "working"))
        {
          advance (self, visits[i].at);
          add_look (self, SCI_LOOK_ALIVE, NAN, NAN);
        }
    }
}

static void
follow_fitting (Follow *self, const TptFittingRow *fitting, const TptReadingRow *readings, guint n_readings)
{
  self->power = tpt_due_power (self->facts, self->deployment, self->unit, fitting->from);
  if (self->reached == TPT_NO_INSTANT || fitting->from - self->reached > SAME_CELLS)
    renew (self);
  self->reached = MAX (fitting->from, self->facts->on - TPT_DUE_MEMORY);
  follow_visits (self, fitting, readings, n_readings);
  if (fitting->to != TPT_NO_INSTANT)
    advance (self, fitting->to);
}

/* Only the last few sets count, and these are cheap to look at. */
static void
look_back (Follow *self)
{
  guint from = 0;

  while (from < self->past->len && g_array_index (self->past, SciLook, from).cells < self->set - MOST_SETS)
    from++;
  sci_drain_look ((const SciLook *) (gpointer) self->past->data + from, self->past->len - from, &self->life->past);
}

static TptDueLife *
follow_unit (const TptDueFacts *facts, TptRecord *unit)
{
  gint64 id = tpt_record_get_id (unit);
  guint n_fittings, n_readings;
  const TptFittingRow *fittings = tpt_due_facts_find_fittings (facts, id, &n_fittings);
  const TptReadingRow *readings = tpt_due_facts_find_readings (facts, id, &n_readings);
  g_autoptr (GArray) past = g_array_new (FALSE, FALSE, sizeof (SciLook));
  TptDueLife *life = g_new0 (TptDueLife, 1);
  Follow self = { .facts = facts, .unit = unit, .life = life, .past = past, .reached = TPT_NO_INSTANT };

  life->unit = unit;
  life->looks = g_array_new (FALSE, FALSE, sizeof (SciLook));
  for (guint i = 0; i < n_fittings; i++)
    {
      self.deployment = tpt_due_facts_find_deployment (facts, fittings[i].deployment_id);
      if (self.deployment == NULL ||
          (fittings[i].to != TPT_NO_INSTANT && fittings[i].to < facts->on - TPT_DUE_MEMORY))
        continue;
      follow_fitting (&self, &fittings[i], readings, n_readings);
    }
  if (self.deployment != NULL)
    advance (&self, tpt_due_known_at (facts, self.deployment, NULL));
  life->expected = self.expected;
  look_back (&self);
  return life;
}

static SciFactor
first_prior (const TptDuePower *power)
{
  return (SciFactor){ 0, power->pace_only ? PACE_LOG_SD : hypot (SCI_UNIT_LOG_SD, power->full_log_sd) };
}

/* Units of one model are alike; without a model, of one kind. Paces are told
 * apart from real drains. */
static char *
name_kind (const TptDueLife *life, const TptDuePower *power)
{
  const char *model = tpt_record_get_text (life->unit, "model");

  return g_strdup_printf ("%d/%s/%s", power->pace_only, tpt_record_get_text (life->unit, "kind"), model != NULL ? model : "");
}

/* The units of one kind in rigs. */
typedef struct {
  GPtrArray *lives;  /* (owned) (element-type TptDueLife) */
  SciFactor prior;
} Kind;

static void
free_kind (gpointer data)
{
  Kind *kind = data;

  g_ptr_array_unref (kind->lives);
  g_free (kind);
}

static void
put_in_kind (GHashTable *kinds, TptDueLife *life, const TptDuePower *power)
{
  g_autofree char *name = name_kind (life, power);
  Kind *kind = g_hash_table_lookup (kinds, name);

  if (kind == NULL)
    {
      kind = g_new0 (Kind, 1);
      kind->lives = g_ptr_array_new ();
      kind->prior = first_prior (power);
      g_hash_table_insert (kinds, g_strdup (name), kind);
    }
  g_ptr_array_add (kind->lives, life);
}

static void
teach_kind (Kind *kind)
{
  g_autofree SciFactor *alone = g_new (SciFactor, kind->lives->len);
  SciFactor prior;

  for (guint i = 0; i < kind->lives->len; i++)
    alone[i] = sci_drain_factor (kind->prior, &((TptDueLife *) kind->lives->pdata[i])->past);
  prior = sci_drain_kind (alone, kind->lives->len, kind->prior);
  for (guint i = 0; i < kind->lives->len; i++)
    {
      TptDueLife *life = kind->lives->pdata[i];

      life->factor = sci_drain_factor (prior, &life->past);
    }
}

/* Units that stand in a rig and have cells, in the order of their fittings. */
static GPtrArray *
find_units (const TptDueFacts *facts)
{
  GPtrArray *units = g_ptr_array_new ();
  gint64 last = 0;

  for (guint i = 0; i < facts->fittings->len; i++)
    {
      const TptFittingRow *row = &g_array_index (facts->fittings, TptFittingRow, i);
      TptRecord *unit = g_hash_table_lookup (facts->unit_ids, &row->unit_id);
      const TptDueDeployment *deployment = tpt_due_facts_find_deployment (facts, row->deployment_id);

      if (row->to != TPT_NO_INSTANT || unit == NULL || deployment == NULL || row->unit_id == last)
        continue;
      if (!tpt_due_power (facts, deployment, unit, row->from).has_cells)
        continue;
      g_ptr_array_add (units, unit);
      last = row->unit_id;
    }
  return units;
}

typedef struct {
  const TptDueFacts *facts;
  GPtrArray *units;
  TptDueLife **lives;
} Lives;

static void
follow_cb (gpointer data, guint index)
{
  Lives *self = data;

  self->lives[index] = follow_unit (self->facts, self->units->pdata[index]);
}

static TptDuePower
power_of (const TptDueFacts *facts, const TptDueLife *life)
{
  guint n;
  const TptFittingRow *rows = tpt_due_facts_find_fittings (facts, tpt_record_get_id (life->unit), &n);

  return tpt_due_power (facts, tpt_due_facts_find_deployment (facts, rows[n - 1].deployment_id), life->unit, rows[n - 1].from);
}

void
tpt_due_find_lives (TptDueFacts *facts)
{
  g_autoptr (GHashTable) kinds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_kind);
  g_autoptr (GPtrArray) units = find_units (facts);
  g_autofree TptDueLife **lives = g_new0 (TptDueLife *, units->len + 1);
  Lives share = { facts, units, lives };
  GHashTableIter iter;
  gpointer kind;

  tpt_share_work (units->len, follow_cb, &share, NULL);
  for (guint i = 0; i < units->len; i++)
    {
      gint64 id = tpt_record_get_id (units->pdata[i]);
      TptDuePower power = power_of (facts, lives[i]);

      g_hash_table_insert (facts->lives, g_memdup2 (&id, sizeof id), lives[i]);
      put_in_kind (kinds, lives[i], &power);
    }
  g_hash_table_iter_init (&iter, kinds);
  while (g_hash_table_iter_next (&iter, NULL, &kind))
    teach_kind (kind);
}

static char *
say_why_not (TptRecord *unit, const TptDuePower *power)
{
  if (!(tpt_record_get_real (unit, "cell_mah") > 0) && isnan (sci_cells_usual_mah (tpt_due_chemistry (unit), SCI_CELL_AA)))
    return g_strdup (_("cannot say because the charge of its cells is not on record and no reading told how fast it goes"));
  if (!power->drain_known)
    return g_strdup (_("cannot say because what it draws is not on record and no reading told how fast it goes"));
  return g_strdup (_("cannot say because the charge of its cells is not on record and no reading told how fast it goes"));
}

SciUnit
tpt_due_unit (const TptDueFacts *facts, const TptDueDeployment *deployment, TptRecord *unit, double *full_mah, char **why)
{
  gint64 id = tpt_record_get_id (unit);
  const TptDueLife *life = g_hash_table_lookup (facts->lives, &id);
  TptDuePower power = tpt_due_power (facts, deployment, unit, tpt_due_known_at (facts, deployment, NULL));
  const SciLook *looks = (const SciLook *) (gpointer) life->looks->data;
  SciCharge charge = sci_drain_left (life->factor, looks, life->looks->len, life->expected);
  SciUnit result = { NAN, NAN, power.sleep_ma, power.mas_per_trigger };

  *full_mah = power.full_mah;
  if (life->found_dead)
    charge = (SciCharge){ 0, 0 };
  else if (power.pace_only && life->factor.log_sd > VAGUE_LOG_SD && charge.log_sd > VAGUE_LOG_SD)
    {
      *why = say_why_not (unit, &power);
      return result;
    }
  result.charge_mah = charge.median * power.full_mah;
  result.charge_log_sd = charge.log_sd;
  return result;
}
