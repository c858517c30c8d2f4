#include "config.h"

#include "tpt-job-groups.h"

#include "tpt-findings-items-private.h"
#include "tpt-month-bins-private.h"

typedef struct {
  char *name;       /* (owned) */
  GListStore *list; /* (owned) */
} Group;

struct _TptJobGroups {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */
  TptGroupsBy by;

  /* In-progress data */
  TptPass *pass;      /* (owned) */
  TptMonthBins *bins; /* (owned) */
  TptRate *rates;     /* (owned): of each species of the pass in each group, group by group */
  gboolean *chosen;   /* (owned) */

  /* Results */
  GArray *groups; /* (owned) (element-type Group) */
};

G_DEFINE_FINAL_TYPE (TptJobGroups, tpt_job_groups, TPT_TYPE_JOB)

gboolean
tpt_groups_by_parse (const char *text, TptGroupsBy *by)
{
  *by = g_str_equal (text, "station") ? TPT_GROUPS_BY_STATION : TPT_GROUPS_BY_MONTH;
  return *by == TPT_GROUPS_BY_STATION || g_str_equal (text, "month");
}

static void
clear_group (gpointer data)
{
  Group *group = data;

  g_free (group->name);
  g_clear_object (&group->list);
}

static guint
count_groups (TptJobGroups *self)
{
  return self->by == TPT_GROUPS_BY_MONTH ? self->bins->n : self->pass->places->len;
}

static guint
find_group (TptJobGroups *self, const TptDetection *detection)
{
  return self->by == TPT_GROUPS_BY_MONTH ? tpt_month_bins_find (self->bins, detection->at) : detection->place;
}

/* Detections come by species, place and time: those of one species at one place in one group follow each other. */
static void
count_detections (TptJobGroups *self)
{
  const TptDetection *last = NULL;
  guint last_group = 0;

  self->rates = g_new0 (TptRate, (gsize) count_groups (self) * self->pass->species->len + 1);
  for (guint i = 0; i < self->pass->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (self->pass->detections, TptDetection, i);
      guint group = find_group (self, detection);
      TptRate *rate = &self->rates[(gsize) group * self->pass->species->len + detection->species];

      rate->detections++;
      rate->individuals += detection->animals;
      rate->stations +=
        last == NULL || last->species != detection->species || last->place != detection->place || last_group != group;
      last = detection;
      last_group = group;
    }
}

static char *
name_group (TptJobGroups *self, guint number)
{
  char month[8];

  if (self->by == TPT_GROUPS_BY_STATION)
    return g_strdup (tpt_record_get_code (self->pass->places->pdata[number]));
  tpt_month_bins_name (self->bins, number, month);
  return g_strdup (month);
}

static void
add_group (TptJobGroups *self, guint number, double nights)
{
  Group group = { name_group (self, number), g_list_store_new (TPT_TYPE_SPECIES_ITEM) };

  for (guint i = 0; i < self->pass->species->len; i++)
    {
      TptRate *rate = &self->rates[(gsize) number * self->pass->species->len + i];
      g_autoptr (TptRecord) record = NULL;
      g_autoptr (TptSpeciesItem) item = NULL;

      if (!self->chosen[i] || (rate->detections == 0 && self->filter->species == NULL))
        continue;
      rate->nights = nights;
      tpt_rate_fill (rate);
      record = tpt_record_copy (self->pass->species->pdata[i]); /* the pass's own stay with the worker */
      item = tpt_species_item_new (record);
      *tpt_species_item_edit_rate (item) = *rate;
      g_list_store_append (group.list, item);
    }
  tpt_species_items_sort (group.list);
  g_array_append_val (self->groups, group);
}

static gboolean
compute (TptJobGroups *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autofree double *by_month = NULL;
  const double *nights;

  self->pass = tpt_pass_get (store, self->filter, cancellable, error);
  self->chosen =
    self->pass != NULL ? tpt_pass_choose (self->pass, (const char *const *) self->filter->species, error) : NULL;
  if (self->chosen == NULL)
    return FALSE;
  self->bins = tpt_month_bins_new (self->pass);
  by_month = tpt_month_bins_nights (self->bins, self->pass);
  nights = self->by == TPT_GROUPS_BY_MONTH ? by_month : self->pass->nights;
  count_detections (self);
  for (guint i = 0; i < count_groups (self); i++)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      add_group (self, i, nights[i]);
    }
  return TRUE;
}

static gboolean
tpt_job_groups_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobGroups *self = TPT_JOB_GROUPS (job);
  gboolean good = compute (self, store, cancellable, error);

  g_clear_pointer (&self->pass, tpt_pass_unref);
  g_clear_pointer (&self->bins, tpt_month_bins_free);
  g_clear_pointer (&self->rates, g_free);
  g_clear_pointer (&self->chosen, g_free);
  return good;
}

static void
tpt_job_groups_dispose (GObject *object)
{
  TptJobGroups *self = TPT_JOB_GROUPS (object);

  g_assert (self->pass == NULL && self->bins == NULL && self->rates == NULL && self->chosen == NULL);
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->groups, g_array_unref);

  G_OBJECT_CLASS (tpt_job_groups_parent_class)->dispose (object);
}

static void
tpt_job_groups_class_init (TptJobGroupsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_groups_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_groups_run;
}

static void
tpt_job_groups_init (TptJobGroups *self)
{
  self->groups = g_array_new (FALSE, FALSE, sizeof (Group));
  g_array_set_clear_func (self->groups, clear_group);
}

TptJobGroups *
tpt_job_groups_new (const TptFilter *filter, TptGroupsBy by)
{
  TptJobGroups *self = g_object_new (TPT_TYPE_JOB_GROUPS, NULL);

  self->filter = tpt_filter_copy (filter);
  self->by = by;
  return self;
}

guint
tpt_job_groups_get_n (TptJobGroups *self)
{
  return self->groups->len;
}

const char *
tpt_job_groups_get_name (TptJobGroups *self, guint group)
{
  return g_array_index (self->groups, Group, group).name;
}

GListModel *
tpt_job_groups_get_species (TptJobGroups *self, guint group)
{
  return G_LIST_MODEL (g_array_index (self->groups, Group, group).list);
}
