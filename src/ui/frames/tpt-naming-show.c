/* What the naming view shows of a trigger. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-frame-words.h"
#include "tpt-naming-private.h"
#include "tpt-words.h"

#define AHEAD 4 /* triggers whose rows are read before they are asked for */

const TptFrameRow *
tpt_naming_get_row (TptNamingView *self)
{
  return self->rows != NULL && self->chosen < self->rows->len ? self->rows->pdata[self->chosen] : NULL;
}

gboolean
tpt_naming_is_editable (TptNamingView *self)
{
  return self->project != NULL && !tpt_project_get_read_only (self->project) && self->rows != NULL &&
         self->ref.trigger_id != 0;
}

/* --- the lines above the picture ---------------------------------------------- */

static void
set_optional (GtkLabel *label, const char *text)
{
  gtk_label_set_label (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL);
}

/* (transfer full): "Trigger 14 of 312, 298 undecided" */
static char *
word_place (TptNamingView *self)
{
  g_autofree char *index = tpt_words_number (tpt_naming_get_index (self) + 1.0);
  g_autofree char *all = tpt_words_number (self->starts->len);
  g_autofree char *undecided = tpt_words_number ((double) self->undecided);

  if (self->starts->len == 0)
    return g_strdup (_("No trigger"));
  return self->undecided < 0 ? g_strdup_printf (_("Trigger %1$s of %2$s"), index, all)
                             : g_strdup_printf (_("Trigger %1$s of %2$s, %3$s undecided"), index, all, undecided);
}

void
tpt_naming_show_place (TptNamingView *self)
{
  g_autofree char *text = word_place (self);

  gtk_label_set_label (self->place, text);
}

static void
show_facts (TptNamingView *self, const TptFrameRow *row)
{
  g_autofree char *time = tpt_frame_words_time (row, tpt_project_get_zone (self->project));
  g_autofree char *title = g_strdup_printf (_("%1$s, %2$s"), row->station_title, time);
  g_autofree char *light = tpt_frame_words_light (row);
  g_autofree char *clock = tpt_frame_words_clock (row);
  g_autofree char *score = tpt_frame_words_score (row->blank_score);
  g_autofree char *damage = row->damage != NULL ? g_strdup_printf (_("Damaged: %s"), row->damage) : NULL;

  gtk_label_set_label (self->title, title);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->title), clock);
  set_optional (self->light, light);
  set_optional (self->score, score);
  set_optional (self->damage, damage);
}

static void
clear_facts (TptNamingView *self)
{
  gtk_label_set_label (self->title, "");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->title), NULL);
  set_optional (self->light, NULL);
  set_optional (self->score, NULL);
  set_optional (self->damage, NULL);
  tpt_frame_view_set_text (self->view, _("No picture"));
}

/* For those who cannot see it: all that is known of it. */
static void
tell_picture (TptNamingView *self, const TptFrameRow *row)
{
  g_autofree char *time = tpt_frame_words_time (row, tpt_project_get_zone (self->project));
  g_autofree char *shown = tpt_frame_row_describe (row);
  g_autofree char *text =
    g_strdup_printf (_("%1$s, %2$s, frame %3$d of %4$d, %5$s"), row->station_title, time, (int) self->chosen + 1,
                     (int) self->rows->len, shown);

  tpt_frame_view_set_text (self->view, text);
}

/* --- names ---------------------------------------------------------------------- */

/* Minutes after local midnight; -1 unknown. */
static int
find_minute (TptNamingView *self, const TptFrameRow *row)
{
  TptZone *zone = tpt_project_get_zone (self->project);
  TptInstant local;

  if (row->at == TPT_NO_INSTANT)
    return -1;
  local = row->at + tpt_zone_offset_at (zone, row->at) * TPT_SECOND;
  return (int) (((local % TPT_DAY) + TPT_DAY) % TPT_DAY / TPT_MINUTE);
}

/* Once set they stay while the trigger is on screen: a number that means
 * another name than a moment ago would be pressed wrongly. */
void
tpt_naming_show_names (TptNamingView *self)
{
  const TptFrameRow *row = tpt_naming_get_row (self);
  GPtrArray *names;

  if (row == NULL || self->named)
    return;
  names = tpt_name_ranks_get (self->ranks, row->station, find_minute (self, row));
  if (names != NULL)
    tpt_name_pad_set_names (self->pad, names);
  self->named = names != NULL;
}

static void
want_names (TptNamingView *self, TptFrameRef ref)
{
  GPtrArray *rows = tpt_trigger_reader_get (self->reader, ref);
  const TptFrameRow *row = rows != NULL && rows->len > 0 ? rows->pdata[0] : NULL;

  if (row != NULL)
    tpt_name_ranks_want (self->ranks, row->station, find_minute (self, row));
}

/* --- a trigger --------------------------------------------------------------------- */

/* The one on screen, those to come, and the one before. */
static guint
list_wanted (TptNamingView *self, TptFrameRef *refs)
{
  guint index = tpt_naming_get_index (self), n = 0;

  refs[n++] = self->ref;
  for (guint i = index + 1; i <= index + AHEAD && i < self->starts->len; i++)
    refs[n++] = tpt_frame_list_get_ref (self->list, g_array_index (self->starts, guint, i));
  if (index > 0)
    refs[n++] = tpt_frame_list_get_ref (self->list, g_array_index (self->starts, guint, index - 1));
  return n;
}

static void
show_nothing (TptNamingView *self)
{
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  clear_facts (self);
  tpt_naming_clear_picture (self);
  tpt_frame_strip_show (self->strip, NULL, 0, 0);
  tpt_frame_strip_set_editable (self->strip, FALSE);
  tpt_said_list_show (self->said, NULL, NULL, FALSE);
  tpt_details_form_show (self->details, NULL);
  if (self->ref.frame_id == 0) /* otherwise it is only being read, and the keyboard may be here */
    gtk_widget_set_sensitive (GTK_WIDGET (self->pad), FALSE);
}

/* What had the keyboard may have gone, as a line that was taken back has; keys
 * would go nowhere. */
static void
keep_keyboard (TptNamingView *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  if (root != NULL && gtk_widget_get_mapped (GTK_WIDGET (self)) && gtk_root_get_focus (root) == NULL)
    gtk_widget_grab_focus (GTK_WIDGET (self->view));
}

void
tpt_naming_show_trigger (TptNamingView *self)
{
  TptFrameRef refs[AHEAD + 2];

  g_clear_pointer (&self->rows, g_ptr_array_unref);
  self->chosen = 0;
  self->named = FALSE;
  self->lift_by_hand = self->details_by_hand = FALSE;
  tpt_naming_set_also (self, FALSE);
  tpt_frame_view_set_zoom (self->view, 0);
  tpt_naming_show_place (self);
  if (self->reader == NULL || self->ref.frame_id == 0)
    {
      show_nothing (self);
      return;
    }
  tpt_trigger_reader_want (self->reader, refs, list_wanted (self, refs));
  if (tpt_trigger_reader_get (self->reader, self->ref) == NULL)
    show_nothing (self);
  tpt_details_form_show (self->details, NULL);
  tpt_naming_show_rows (self);
  tpt_naming_show_details (self);
}

static guint
find_frame (GPtrArray *rows, gint64 frame_id)
{
  for (guint i = 0; i < rows->len; i++)
    if (((const TptFrameRow *) rows->pdata[i])->ref.frame_id == frame_id)
      return i;
  return 0;
}

static void
show_chosen (TptNamingView *self)
{
  const TptFrameRow *row = tpt_naming_get_row (self);

  show_facts (self, row);
  tell_picture (self, row);
  tpt_key_button_set_held (self->guests, row->marked);
  tpt_naming_show_picture (self);
  tpt_frame_strip_show (self->strip, self->rows, self->chosen, tpt_frame_view_get_lift (self->view));
}

void
tpt_naming_show_said (TptNamingView *self)
{
  gboolean editable = tpt_naming_is_editable (self);
  guint n_mine;

  tpt_naming_find_mine (self, &n_mine);
  tpt_said_list_show (self->said, tpt_naming_get_row (self), self->person, editable);
  tpt_name_pad_set_mine (self->pad, editable && n_mine > 0);
  gtk_widget_set_sensitive (GTK_WIDGET (self->pad), editable);
  gtk_widget_set_sensitive (GTK_WIDGET (self->guests), editable);
  tpt_frame_strip_set_editable (self->strip, editable);
  keep_keyboard (self);
}

/* The rows of the trigger on screen, if they are new. The keyboard's place, the
 * frame and the names stay. */
static void
take_rows (TptNamingView *self)
{
  GPtrArray *rows = tpt_trigger_reader_get (self->reader, self->ref);
  gint64 frame_id = self->ref.frame_id;

  if (rows == NULL || rows->len == 0 || rows == self->rows)
    return;
  if (tpt_naming_get_row (self) != NULL && tpt_naming_get_row (self)->ref.trigger_id == self->ref.trigger_id)
    frame_id = tpt_naming_get_row (self)->ref.frame_id;
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  self->rows = g_ptr_array_ref (rows);
  self->chosen = find_frame (rows, frame_id);
  show_chosen (self);
  tpt_naming_show_said (self);
  tpt_naming_show_details (self);
}

void
tpt_naming_show_rows (TptNamingView *self)
{
  TptFrameRef refs[AHEAD + 2];
  guint n;

  if (self->reader == NULL || self->ref.frame_id == 0)
    return;
  take_rows (self);
  n = list_wanted (self, refs);
  for (guint i = 0; i < MIN (n, 3); i++)
    want_names (self, refs[i]);
  tpt_naming_show_names (self);
  tpt_naming_look_ahead (self);
}

void
tpt_naming_choose_frame (TptNamingView *self, int place)
{
  if (self->rows == NULL || place < 0 || place >= (int) self->rows->len)
    return;
  self->chosen = (guint) place;
  show_chosen (self);
  tpt_naming_look_ahead (self);
}

void
tpt_naming_show_trouble (TptNamingView *self)
{
  const char *message = NULL;
  guint n = self->decider != NULL ? tpt_decider_get_failed (self->decider, &message) : 0;
  g_autofree char *text = NULL;

  if (n > 0)
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$u decision could not be written: %2$s",
                                         "%1$u decisions could not be written: %2$s", n), n, message);
  gtk_label_set_label (self->trouble_text, text != NULL ? text : "");
  gtk_widget_set_visible (self->trouble, n > 0);
}
