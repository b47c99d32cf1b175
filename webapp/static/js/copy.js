// Copies the letter. Without this script it is marked and copied by hand.
const button = document.getElementById("copy");
button.hidden = false;
button.onclick = () => {
  document.getElementById("letter").select();
  if (document.execCommand("copy")) button.textContent = "Copied";
};
