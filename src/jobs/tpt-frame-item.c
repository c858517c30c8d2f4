#include "config.h"

#include "tpt-frame-item.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-frame-item-private.h"
#include "tpt-opinions.h"
#include "tpt-table.h"

struct _TptFrameItem {
  GObject parent_instance;

  TptFrameRow *row; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptFrameItem, tpt_frame_item, G_TYPE_OBJECT)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

TptSeen *
tpt_seen_new (void)
{
  TptSeen *self = g_new0 (TptSeen, 1);

  self->certainty = NAN;
  self->at = TPT_NO_INSTANT;
  self->opinion = 1;
  return self;
}

void
tpt_seen_free (TptSeen *self)
{
  g_free (self->observation);
  g_free (self->type);
  g_free (self->species);
  g_free (self->common);
  g_free (self->sex);
  g_free (self->life_stage);
  g_free (self->behaviour);
  g_free (self->individual);
  g_free (self->notes);
  g_free (self->by);
  g_free (self);
}

static void
append_detail (GString *text, const char *choice)
{
  g_autofree char *word = choice != NULL ? tpt_choice_inline (choice) : NULL;

  if (word != NULL)
    g_string_append_printf (text, _(", %s"), word);
}

char *
tpt_seen_describe (const TptSeen *seen)
{
  const char *name = seen->common != NULL ? seen->common : seen->species != NULL ? seen->species : tpt_choice_label (seen->type);
  GString *text = g_string_new (NULL);

  if (seen->count > 1)
    g_string_append_printf (text, C_("animals seen", "%d %s"), seen->count, name);
  else
    g_string_append (text, name);
  append_detail (text, seen->sex);
  append_detail (text, seen->life_stage);
  return g_string_free (text, FALSE);
}

static gboolean
is_said (const TptSeen *seen)
{
  return !g_str_equal (seen->type, "unclassified");
}

/* Whether opinion @number says what @seen says. */
static gboolean
says (GPtrArray *all, int number, const TptSeen *seen)
{
  for (guint i = 0; i < all->len; i++)
    {
      const TptSeen *other = all->pdata[i];

      if (other->opinion == number && g_str_equal (other->type, seen->type) && g_strcmp0 (other->species, seen->species) == 0)
        return TRUE;
    }
  return FALSE;
}

/* It stands beside the one that counts, and nobody has settled which is right. */
static gboolean
is_open (const TptSeen *seen)
{
  return seen->opinion > 1 && seen->opinion < TPT_OPINION_SETTLED;
}

static gboolean
is_missed_by_another (GPtrArray *all, const TptSeen *counting)
{
  for (guint i = 0; i < all->len; i++)
    {
      const TptSeen *other = all->pdata[i];

      if (is_open (other) && !says (all, other->opinion, counting))
        return TRUE;
    }
  return FALSE;
}

gboolean
tpt_seen_differ (GPtrArray *seen)
{
  for (guint i = 0; i < seen->len; i++)
    {
      const TptSeen *one = seen->pdata[i];

      if (is_open (one) ? !says (seen, 1, one) : one->opinion == 1 && is_said (one) && is_missed_by_another (seen, one))
        return TRUE;
    }
  return FALSE;
}

TptFrameRow *
tpt_frame_row_new (void)
{
  TptFrameRow *self = g_new0 (TptFrameRow, 1);

  self->at = TPT_NO_INSTANT;
  self->temperature_c = self->blank_score = NAN;
  self->flash = self->night = -1;
  self->seen = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_seen_free);
  return self;
}

void
tpt_frame_row_free (TptFrameRow *self)
{
  g_free (self->frame);
  g_free (self->path);
  g_free (self->file);
  g_free (self->sha256);
  g_free (self->kind);
  g_free (self->camera_time);
  g_free (self->time_source);
  g_free (self->damage);
  g_free (self->station);
  g_free (self->station_title);
  g_free (self->deployment);
  g_free (self->batch);
  g_ptr_array_unref (self->seen);
  g_free (self);
}

char *
tpt_frame_row_describe (const TptFrameRow *self)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < self->seen->len; i++)
    {
      const TptSeen *seen = self->seen->pdata[i];
      g_autofree char *one = NULL;

      if (seen->opinion > 1 || !is_said (seen))
        continue;
      one = tpt_seen_describe (seen);
      g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", one);
    }
  if (text->len == 0)
    g_string_append (text, _("undecided"));
  return g_string_free (text, FALSE);
}

gboolean
tpt_frame_row_is_decided (const TptFrameRow *self)
{
  for (guint i = 0; i < self->seen->len; i++)
    if (is_said (self->seen->pdata[i]))
      return TRUE;
  return FALSE;
}

gboolean
tpt_frame_row_is_clip (const TptFrameRow *self)
{
  return g_strcmp0 (self->kind, "clip") == 0;
}

const char *
tpt_frame_row_get_key (const TptFrameRow *self)
{
  return self->sha256 != NULL ? self->sha256 : self->path;
}

static void
tpt_frame_item_finalize (GObject *object)
{
  g_clear_pointer (&TPT_FRAME_ITEM (object)->row, tpt_frame_row_free);

  G_OBJECT_CLASS (tpt_frame_item_parent_class)->finalize (object);
}

static void
tpt_frame_item_class_init (TptFrameItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_frame_item_finalize;

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_frame_item_init (TptFrameItem *self)
{
}

TptFrameItem *
tpt_frame_item_new (void)
{
  return g_object_new (TPT_TYPE_FRAME_ITEM, NULL);
}

const TptFrameRow *
tpt_frame_item_get_row (TptFrameItem *self)
{
  return self->row;
}

void
tpt_frame_item_take_row (TptFrameItem *self, TptFrameRow *row)
{
  g_clear_pointer (&self->row, tpt_frame_row_free);
  self->row = row;
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}
